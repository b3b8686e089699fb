package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.message.FindingCode;
import java.util.Locale;
import java.util.Optional;

/**
 * The mains were gone and are back: the machine was off and nobody had ended the agent; or, where
 * the agent went on from a battery, a fan that was driven stood still by its tachometer and turns
 * again, or the heater gave nothing while the air stood still, and both are back. Told for an hour,
 * so that a person who was away hears what the eggs went through.
 */
final class MainsReturned extends Watch {

    private static final long TOLD_NANOS = 3_600_000_000_000L;

    /** A fan that stood still for less was only touched. */
    private static final double SHORTEST_STOP_SECONDS = 20;

    private static final double SECONDS_PER_MINUTE = 60;
    private static final double NANOS_PER_SECOND = 1e9;

    private final CabinetPlan plan;
    private boolean hasStarted;
    private long startedAtNanos;
    private boolean isStill;
    private long stillSinceNanos;
    private boolean hasFanReturned;
    private long fanReturnedAtNanos;
    private double stillSeconds;
    private boolean hasHeatReturned;
    private long heatReturnedAtNanos;
    private double heatGoneSeconds;
    private boolean isAfterStart;

    MainsReturned(CabinetPlan plan) {
        super(FindingCode.MAINS_RETURNED, Optional.empty(), 0, 0);
        this.plan = plan;
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        if (!hasStarted) {
            hasStarted = true;
            startedAtNanos = now.nowNanos();
        }
        lookAtFan(now);
        isAfterStart =
                now.facts().signs().wasMachineOff() && now.nowNanos() - startedAtNanos < TOLD_NANOS;
        hasFanReturned &= now.nowNanos() - fanReturnedAtNanos < TOLD_NANOS;
        lookAtHeat(now);
        return Presence.of(isAfterStart || hasFanReturned || hasHeatReturned);
    }

    private void lookAtHeat(Circumstances now) {
        if (now.health().isMainsReturned()) {
            hasHeatReturned = true;
            heatReturnedAtNanos = now.nowNanos();
            heatGoneSeconds = now.health().heatGoneSeconds();
        }
        hasHeatReturned &= now.nowNanos() - heatReturnedAtNanos < TOLD_NANOS;
    }

    private void lookAtFan(Circumstances now) {
        Signs signs = now.facts().signs();
        if (signs.fanTurnsPerMinute().isEmpty() || !signs.wasFanOn() || signs.isPlannedWork()) {
            isStill = false;
            return;
        }
        if (signs.fanTurnsPerMinute().getAsDouble() == 0) {
            if (!isStill) {
                isStill = true;
                stillSinceNanos = now.nowNanos();
            }
            return;
        }
        stillSeconds = (now.nowNanos() - stillSinceNanos) / NANOS_PER_SECOND;
        if (isStill && stillSeconds >= SHORTEST_STOP_SECONDS) {
            hasFanReturned = true;
            fanReturnedAtNanos = now.nowNanos();
        }
        isStill = false;
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                gone(now.facts().signs()) + "; " + ProbeTexts.airProbes(plan, now.state()),
                Texts.heating(now),
                "Look how cold the cabinet got, and whether all of it runs again: heater, fan,"
                        + " lights, thermal cut-out.");
    }

    private String gone(Signs signs) {
        if (isAfterStart) {
            return signs.offSeconds().isPresent()
                    ? "this machine was off for " + minutes(signs.offSeconds().getAsDouble())
                    : "this machine was off; for how long is known once its clock is set";
        }
        return hasFanReturned
                ? "the fan stood still for "
                        + minutes((fanReturnedAtNanos - stillSinceNanos) / NANOS_PER_SECOND)
                        + " and turns again"
                : "no heat came for about "
                        + minutes(heatGoneSeconds)
                        + " and the air stood still; both are back";
    }

    private static String minutes(double seconds) {
        return String.format(Locale.ROOT, "%.0f min", Math.ceil(seconds / SECONDS_PER_MINUTE));
    }
}
