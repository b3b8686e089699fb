package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.message.ProbePlace;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * The hard cut-off and its latch.
 *
 * <p>Any good probe inside the cabinet counts: air, tub, or the guard's own; only the room's does
 * not. One believed probe at or above the cut-off takes the heat away in the same tick. What needs
 * a person, the latch, trips with such a probe's second sample in a row that is near the first, or
 * the fifth of one that jumps up and down, so that freak samples cost nobody a walk (a sample that
 * was refused in between begins the row anew), and only when
 *
 * <ul>
 *   <li>another probe inside agrees: it is so near to the cut-off that layers of air explain the
 *       difference, and clearly above the set point; or
 *   <li>no other believed air probe is there to contradict it; or
 *   <li>{@link LoneHotProbe}'s trial says so.
 * </ul>
 *
 * <p>A tub's probe is no judge of air, and no air probe of a tub that heated up slowly: a hot tub
 * trips the latch unless the air has not been near to that for hours; then that probe is set aside.
 *
 * <p>A probe that is set aside still counts together with another: at the cut-off, and a believed
 * one halfway from the set point to it in air that is too warm or parts as it never does here, heat
 * goes; the latch trips when the believed one is nearly there too. A probe that drifted up stands
 * at the cut-off for weeks, and each overshoot after a look inside would else leave the eggs cold
 * until somebody comes; nor may a top that is always that warm take heat in each of its cycles.
 *
 * <p><b>One probe left.</b> Where the last believed air probe of several stands alone, the margin
 * between set point and cut-off is halved, but to no less than 1 K. Heat goes at that; the latch
 * trips there when it stays there for {@value #LOWERED_SECONDS} s without heat, and at the
 * configured cut-off as ever.
 */
final class CutOff {

    /** Samples in a row of one probe at or above the cut-off that trip the latch. */
    static final int TRIPPING_SAMPLES = 2;

    /** The same for a probe that jumps up and down: noise has two such peaks in a minute. */
    static final int TRIPPING_SAMPLES_UNSTEADY = 5;

    /** A step from sample to sample that air and a probe's own lag don't make, K. */
    private static final double FAR_KELVIN = 1.0;

    /** After a step up and one down that were both so large a probe is unsteady, K. */
    private static final double UNSTEADY_KELVIN = 0.7;

    /** For so many samples. */
    private static final int UNSTEADY_SAMPLES = 10;

    /** A reset needs every probe to be this far below the cut-off. */
    static final double RESET_DISTANCE_KELVIN = 1.0;

    /** Above the lowered cut-off for so long without heat: more than an overshoot. */
    static final double LOWERED_SECONDS = 300;

    /** A probe that agrees is at least this share of the way from the set point to the cut-off. */
    private static final double AGREEING_SHARE = 0.25;

    /** A believed probe so near the cut-off makes a hot one that is set aside sure, K. */
    private static final double NEARLY_THERE_KELVIN = 0.25;

    /** The believed air is warm when the process value is so far above the set point, K. */
    private static final double WARM_KELVIN = 0.5;

    /** For so long air may have heated a tub that is hot alone now. */
    private static final double TUB_MEMORY_SECONDS = 6 * 3600;

    private static final double TUB_ABOVE_AIR_KELVIN = 0.75;
    private static final double TUB_TRIAL_SECONDS = 900;
    private static final double NANOS_PER_SECOND = 1e9;

    private final CabinetPlan plan;
    private final LimitRules limits;
    private final double cutOffCelsius;
    private final boolean[] isJudged;
    private final boolean[] isAir;
    private final int airProbes;
    private final int[] hotSamples;
    private final long[] hotAtNanos;
    private final long[] hotSinceNanos;
    private final double[] lastCelsius;
    private final double[] lastStepKelvin;
    private final long[] lastAtNanos;
    private final int[] unsteadySamples;
    private final LoneHotProbe lone;
    private double warmestAirOfHours = Double.NEGATIVE_INFINITY;
    private Latch latch;

    /**
     * What a tick's judgement needs beside the readings.
     *
     * @param setPointCelsius in force, or the highest one that the air may still be coming from
     * @param heatShare of the last minutes in which the heater was on, 0 to 1
     * @param beyondUsualKelvin as in {@link StillAir#holds}
     * @param elapsedSeconds since the last tick
     */
    record Setting(
            double setPointCelsius,
            double heatShare,
            double beyondUsualKelvin,
            double elapsedSeconds) {}

    CutOff(CabinetPlan plan, LimitRules limits, Latch latch) {
        this.plan = plan;
        this.limits = limits;
        this.cutOffCelsius = limits.cutOff().celsius();
        this.latch = latch;
        List<ProbePlan> probes = plan.probes();
        isJudged = new boolean[probes.size()];
        isAir = new boolean[probes.size()];
        hotSamples = new int[probes.size()];
        hotAtNanos = new long[probes.size()];
        hotSinceNanos = new long[probes.size()];
        lastCelsius = new double[probes.size()];
        lastStepKelvin = new double[probes.size()];
        lastAtNanos = new long[probes.size()];
        unsteadySamples = new int[probes.size()];
        Arrays.fill(lastCelsius, Double.NaN);
        int air = 0;
        for (int i = 0; i < isJudged.length; i++) {
            ProbePlan probe = probes.get(i);
            boolean isThermometer = probe.sensor().isThermometer();
            isJudged[i] =
                    isThermometer
                            && (probe.isGuardProbe()
                                    || probe.place().kind() != ProbePlace.Kind.AMBIENT);
            isAir[i] = isThermometer && probe.place().kind().isAir();
            air += isAir[i] ? 1 : 0;
        }
        airProbes = air;
        lone = new LoneHotProbe(plan, isAir);
    }

    /** The trial of a probe that is hot alone. */
    LoneHotProbe lone() {
        return lone;
    }

    /** Whether the cut-off is lowered because one air probe of several is left. */
    boolean isLowered(CabinetState state) {
        return airProbes > 1 && state.trustedAirProbes() == 1;
    }

    /** The cut-off in force, °C. */
    double inForceCelsius(CabinetState state, double setPointCelsius) {
        return isLowered(state) ? limits.loweredCutOffCelsius(setPointCelsius) : cutOffCelsius;
    }

    /** Looks at this tick's readings. Returns whether heat must wait. */
    boolean judge(CabinetState state, TrustBook trust, Setting setting, long nowNanos) {
        rememberAir(state, setting.elapsedSeconds());
        double inForce = inForceCelsius(state, setting.setPointCelsius());
        boolean isAnyHot = false;
        for (int i = 0; i < isJudged.length; i++) {
            if (!isJudged[i]) {
                continue;
            }
            if (!state.isGood(i)) {
                // What came before a refused sample and what comes after it are not in a row.
                hotSamples[i] = isSure(i) ? hotSamples[i] : 0;
                continue;
            }
            noteStep(i, state);
            boolean isHot = state.celsius(i) >= (trust.isTrusted(i) ? inForce : cutOffCelsius);
            if (!isHot) {
                hotSamples[i] = 0;
                continue;
            }
            isAnyHot |= judgeHot(i, state, trust, setting, nowNanos);
        }
        LoneHotProbe.Verdict verdict =
                lone.judge(state, trust, cutOffCelsius, setting.elapsedSeconds(), nowNanos);
        if (verdict == LoneHotProbe.Verdict.TRIP) {
            trip(hottest(state), state, lone.tripReason());
        }
        return isAnyHot || verdict != LoneHotProbe.Verdict.NONE;
    }

    /** Returns whether heat must wait for this hot probe. */
    private boolean judgeHot(
            int probe, CabinetState state, TrustBook trust, Setting setting, long nowNanos) {
        count(probe, state, nowNanos);
        if (!state.isTrusted(probe)) {
            int other = agreeing(probe, state, limits.halfwayCelsius(setting.setPointCelsius()));
            if (other >= 0
                    && isSure(probe)
                    && state.celsius(other) >= cutOffCelsius - NEARLY_THERE_KELVIN) {
                trip(probe, state, agrees(other, state));
            }
            return other >= 0 && isUnusual(state, setting);
        }
        if (!isSure(probe) || isTripped()) {
            return true;
        }
        double seconds = (nowNanos - hotSinceNanos[probe]) / NANOS_PER_SECOND;
        if (state.celsius(probe) < cutOffCelsius) {
            if (seconds >= LOWERED_SECONDS) {
                trip(probe, state, "it is the only air probe left, so the margin is halved");
            }
            return true;
        }
        int other = agreeing(probe, state, agreeingCelsius(setting));
        if (other >= 0) {
            trip(probe, state, agrees(other, state));
        } else if (!isAir[probe]) {
            return judgeHotTub(probe, state, trust, seconds);
        } else if (!lone.hasOthers(probe, state)) {
            trip(probe, state, "");
        } else {
            lone.begin(probe, state, nowNanos);
        }
        return true;
    }

    /** Whether the believed air is not what it is in this cabinet every day. */
    private static boolean isUnusual(CabinetState state, Setting setting) {
        return setting.beyondUsualKelvin() > StillAir.BEYOND_USUAL_KELVIN
                || state.isBlind()
                || state.processCelsius() > setting.setPointCelsius() + WARM_KELVIN;
    }

    /** Whether so many samples in a row were hot that no noise makes them. */
    private boolean isSure(int probe) {
        return hotSamples[probe]
                >= (unsteadySamples[probe] > 0 ? TRIPPING_SAMPLES_UNSTEADY : TRIPPING_SAMPLES);
    }

    /** A tub can't be hotter than the air that heated it has been. */
    private boolean judgeHotTub(int probe, CabinetState state, TrustBook trust, double seconds) {
        boolean isExplained =
                state.isBlind() || warmestAirOfHours > state.celsius(probe) - TUB_ABOVE_AIR_KELVIN;
        if (isExplained) {
            trip(probe, state, "");
            return true;
        }
        return seconds < TUB_TRIAL_SECONDS || !trust.setAside(probe, LoneHotProbe.CAUSE, state);
    }

    private void rememberAir(CabinetState state, double elapsedSeconds) {
        if (state.isBlind()) {
            return;
        }
        double warmest = state.celsius(state.warmestAir());
        if (warmest >= warmestAirOfHours || warmestAirOfHours == Double.NEGATIVE_INFINITY) {
            warmestAirOfHours = warmest;
        } else {
            warmestAirOfHours +=
                    (warmest - warmestAirOfHours)
                            * Math.min(1, elapsedSeconds / TUB_MEMORY_SECONDS);
        }
    }

    private void noteStep(int probe, CabinetState state) {
        long atNanos = state.readings().get(probe).reading().sampledAtNanos();
        if (atNanos == lastAtNanos[probe]) {
            return;
        }
        double step = state.celsius(probe) - lastCelsius[probe];
        boolean isUnsteady =
                step * lastStepKelvin[probe] < 0
                        && Math.min(Math.abs(step), Math.abs(lastStepKelvin[probe]))
                                > UNSTEADY_KELVIN;
        unsteadySamples[probe] =
                isUnsteady ? UNSTEADY_SAMPLES : Math.max(0, unsteadySamples[probe] - 1);
        lastStepKelvin[probe] = step;
        lastCelsius[probe] = state.celsius(probe);
        lastAtNanos[probe] = atNanos;
    }

    private void count(int probe, CabinetState state, long nowNanos) {
        long atNanos = state.readings().get(probe).reading().sampledAtNanos();
        if (hotSamples[probe] == 0) {
            hotSinceNanos[probe] = nowNanos;
        } else if (atNanos == hotAtNanos[probe]) {
            return;
        }
        hotAtNanos[probe] = atNanos;
        // Two hot samples far from each other don't bear each other out.
        boolean isFar = Math.abs(lastStepKelvin[probe]) > FAR_KELVIN;
        hotSamples[probe] = isFar ? 1 : hotSamples[probe] + 1;
    }

    /** From here on another probe confirms a hot one. */
    private double agreeingCelsius(Setting setting) {
        double margin = cutOffCelsius - setting.setPointCelsius();
        double layers = plan.guard().disagreeKelvin() * (1 + setting.heatShare());
        return cutOffCelsius - Math.min(layers, margin * (1 - AGREEING_SHARE));
    }

    /** The warmest believed probe inside but this one, when it is at least so warm; or -1. */
    private int agreeing(int probe, CabinetState state, double leastCelsius) {
        int warmest = -1;
        for (int i = 0; i < isJudged.length; i++) {
            if (i != probe
                    && isJudged[i]
                    && state.isTrusted(i)
                    && state.celsius(i) >= leastCelsius
                    && (warmest < 0 || state.celsius(i) > state.celsius(warmest))) {
                warmest = i;
            }
        }
        return warmest;
    }

    private int hottest(CabinetState state) {
        int hottest = state.isBlind() ? 0 : state.warmestAir();
        for (int i = 0; i < isJudged.length; i++) {
            if (isJudged[i]
                    && state.isTrusted(i)
                    && (!state.isGood(hottest) || state.celsius(i) > state.celsius(hottest))) {
                hottest = i;
            }
        }
        return hottest;
    }

    private String agrees(int other, CabinetState state) {
        return plan.probes().get(other).name()
                + " agrees with "
                + Texts.celsius(state.celsius(other));
    }

    private void trip(int probe, CabinetState state, String why) {
        if (isTripped()) {
            return;
        }
        lone.end();
        latch =
                new Latch.Tripped(
                        "probe "
                                + plan.probes().get(probe).name()
                                + (state.isGood(probe)
                                        ? " read " + Texts.celsius(state.celsius(probe))
                                        : "")
                                + ", cut-off at "
                                + Texts.celsius(cutOffCelsius)
                                + (why.isEmpty() ? "" : "; " + why));
    }

    Latch latch() {
        return latch;
    }

    boolean isTripped() {
        return latch instanceof Latch.Tripped;
    }

    /**
     * Why a reset is not allowed now, in plain words; empty when it is.
     *
     * @param isAtCabinet whether who asks sees the cabinet: only then a probe that is set aside may
     *     be wrong in a way that a person can tell
     */
    Optional<String> resetRefusal(CabinetState state, double setPointCelsius, boolean isAtCabinet) {
        if (!isTripped()) {
            return Optional.of("the cut-off has not tripped: there is nothing to reset");
        }
        if (state.isBlind()) {
            return Optional.of(
                    "no air probe gives a good reading, so nobody can tell that it is cool enough:"
                            + " repair a probe first");
        }
        double highest = inForceCelsius(state, setPointCelsius) - RESET_DISTANCE_KELVIN;
        for (int i = 0; i < isJudged.length; i++) {
            boolean isAsked = isAtCabinet ? state.isTrusted(i) : state.isGood(i);
            if (isJudged[i] && isAsked && state.celsius(i) >= highest) {
                return Optional.of(
                        "probe "
                                + plan.probes().get(i).name()
                                + " still reads "
                                + Texts.celsius(state.celsius(i))
                                + ": it must be below "
                                + Texts.celsius(highest)
                                + " (1 K below the cut-off) first");
            }
        }
        return Optional.empty();
    }

    /** A person reset it, and {@link #resetRefusal} had nothing against it. */
    void reset() {
        latch = new Latch.Clear();
        Arrays.fill(hotSamples, 0);
    }
}
