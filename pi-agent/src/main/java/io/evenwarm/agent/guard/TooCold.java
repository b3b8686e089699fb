package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.message.FindingCode;
import java.util.Optional;
import java.util.function.BooleanSupplier;

/**
 * The coldest good air probe is below the cold limit, and not because the cabinet is still warming
 * up: after the start, and after a person moved the set point, the finding waits until the cabinet
 * has settled, or until {@value #WARM_UP_SECONDS} s went by without that.
 *
 * <p>One probe that is far colder than all others is waited with for three minutes: guard knows by
 * then whether it has fallen out.
 *
 * <p>After an opening it waits for an hour, and on for as long as the air gets warmer. Cold tubs
 * take so much heat that top and bottom part: while they do, and the process value is back, the
 * bottom may be as far below the limit as the limit is below the set point. Nobody can do more
 * about either. Heat that fails meanwhile lets the process value fall, and that is told.
 */
final class TooCold extends Watch {

    /** 4 h: a full cabinet with the smallest heater of the range warms up in less. */
    static final double WARM_UP_SECONDS = 4 * 3600;

    /** After planned work the walls and the eggs are still warm: the air is soon back. */
    static final double AFTER_WORK_SECONDS = 3600;

    /** What a trial withholds comes back within some windows of the relay. */
    static final double AFTER_TRIAL_SECONDS = 900;

    /** With the door open for so long, the cold itself is to be told of. */
    private static final double LONGEST_LOOK_SECONDS = 1800;

    /** The process value is back when it is no farther below the set point. */
    private static final double BACK_KELVIN = 0.5;

    /** One probe that is farther below all others than this may not be in the cabinet, K. */
    private static final double ALONE_KELVIN = 1.5;

    /** Whether it is shows by then. */
    private static final double ALONE_SECONDS = 180;

    private static final double NANOS_PER_SECOND = 1e9;

    /** What it warms up after, and for how long at least the finding waits then. */
    private enum After {
        START(WARM_UP_SECONDS),
        OPENING(AFTER_WORK_SECONDS),
        TRIAL(AFTER_TRIAL_SECONDS);

        private final double waitSeconds;

        After(double waitSeconds) {
            this.waitSeconds = waitSeconds;
        }
    }

    private final CabinetPlan plan;
    private final BooleanSupplier isHeatWithheld;
    private final Trend trend = new Trend(RoomTooCold.MINUTES);
    private final boolean[] isAir;
    private double aloneSeconds;
    private boolean isWarmingUp = true;
    private boolean hasWarmUpStarted;
    private After after = After.START;
    private long warmUpSinceNanos;

    /**
     * @param isHeatWithheld whether heat is withheld on trial: to test the cut-off relay, or to see
     *     whether a probe that was set aside cools as hot air would
     */
    TooCold(CabinetPlan plan, BooleanSupplier isHeatWithheld) {
        super(FindingCode.TOO_COLD, Optional.empty(), TooWarm.DELAY_SECONDS, TooWarm.DELAY_SECONDS);
        this.plan = plan;
        this.isHeatWithheld = isHeatWithheld;
        isAir = new boolean[plan.probes().size()];
        for (int i = 0; i < isAir.length; i++) {
            ProbePlan probe = plan.probes().get(i);
            isAir[i] = probe.sensor().isThermometer() && probe.place().kind().isAir();
        }
    }

    void expectWarmUp() {
        isWarmingUp = true;
        hasWarmUpStarted = false;
        after = After.START;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        if (isWarmingUp && !hasWarmUpStarted) {
            hasWarmUpStarted = true;
            warmUpSinceNanos = now.nowNanos();
        }
        if (now.facts().signs().isPlannedWork() || isLook(now)) {
            // The open door, and the way back after it.
            isWarmingUp = !isRaised;
            warmUpSinceNanos = now.nowNanos();
            after = After.OPENING;
            trend.restart();
            return Presence.UNKNOWN;
        }
        if (now.health().doorOpenSeconds() >= LONGEST_LOOK_SECONDS) {
            isWarmingUp = false;
        }
        if (now.state().isBlind()) {
            return Presence.UNKNOWN;
        }
        if (isHeatWithheld.getAsBoolean()) {
            waitForTrial(isRaised, now.nowNanos());
        }
        double limit = now.limits().tooCold().celsius();
        boolean isCold =
                now.state().celsius(now.state().coldestAir())
                        < limit + (isRaised ? TooWarm.DEAD_BAND_KELVIN : 0);
        if (isWarmingUp) {
            trend.take(now.state().processCelsius(), now.nowNanos());
            isWarmingUp = mayStillWarmUp(now);
        }
        if (isAlone(now)) {
            aloneSeconds += now.facts().secondsSinceLastTick();
            isCold &= isRaised || aloneSeconds >= ALONE_SECONDS;
        } else {
            aloneSeconds = 0;
        }
        // A finding that is there already stays: a new set point does not make it untrue.
        return Presence.of(isCold && (isRaised || !(isWarmingUp || areLayersDue(now, limit))));
    }

    /** Whether one probe alone is far colder than all others: it may have fallen out. */
    private boolean isAlone(Circumstances now) {
        int coldest = now.state().coldestAir();
        double least = now.state().celsius(coldest) + ALONE_KELVIN;
        int others = 0;
        for (int i = 0; i < isAir.length; i++) {
            if (i != coldest && isAir[i] && now.state().isTrusted(i)) {
                if (now.state().celsius(i) < least) {
                    return false;
                }
                others++;
            }
        }
        return others > 0;
    }

    private void waitForTrial(boolean isRaised, long nowNanos) {
        if (!isWarmingUp && !isRaised) {
            isWarmingUp = true;
            after = After.TRIAL;
        }
        if (after == After.TRIAL) {
            warmUpSinceNanos = nowNanos;
        }
    }

    private boolean mayStillWarmUp(Circumstances now) {
        double seconds = (now.nowNanos() - warmUpSinceNanos) / NANOS_PER_SECOND;
        if (after == After.TRIAL) {
            // A settled cabinet was tried: that it is settled says nothing.
            return seconds < after.waitSeconds;
        }
        if (now.isSettled()) {
            return false;
        }
        boolean isRising = trend.isFull() && trend.rise() >= RoomTooCold.RISING_KELVIN;
        return seconds < after.waitSeconds || (isRising && seconds < WARM_UP_SECONDS);
    }

    /** Whether cold tubs drive the layers apart, and all else is as it should be. */
    private static boolean areLayersDue(Circumstances now, double limit) {
        double setPoint = now.setPointCelsius();
        return now.health().isRecovering()
                && now.state().processCelsius() > setPoint - BACK_KELVIN
                && now.state().celsius(now.state().coldestAir()) > limit - (setPoint - limit);
    }

    /** A door that was opened a short while ago has a finding of its own when it stays open. */
    private static boolean isLook(Circumstances now) {
        if (now.health().sinceOpenSeconds() > 0) {
            return false;
        }
        double seconds = now.health().doorOpenSeconds();
        return seconds < LONGEST_LOOK_SECONDS;
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                ProbeTexts.airProbes(plan, now.state())
                        + "; cold limit "
                        + Texts.celsius(now.limits().tooCold().celsius()),
                Texts.heating(now),
                now.latch() instanceof Latch.Tripped
                        ? "The eggs are cooling because the cut-off has tripped: find out why it"
                                + " did, then reset it."
                        : "Go and look: is the door shut, has the heater current (fuse, plug, thermal"
                                + " cut-out), does the fan run?");
    }
}
