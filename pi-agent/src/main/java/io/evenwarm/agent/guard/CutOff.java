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
 * <p>Any good probe inside the cabinet may trip it: air, tub, or the guard's own; only the room's
 * may not. One probe at or above the cut-off takes the heat away in the same tick; it trips the
 * latch with its second sample in a row, so that one freak sample costs no person a walk. No other
 * probe can outvote it: with a stopped fan one shelf alone gets hot, and guard can't tell that from
 * a probe that lies. A trip on a lie costs heat, which eggs bear for hours, and calls a person.
 */
final class CutOff {

    /** Samples in a row of one probe at or above the cut-off that trip the latch. */
    static final int TRIPPING_SAMPLES = 2;

    /** A reset needs every probe to be this far below the cut-off. */
    static final double RESET_DISTANCE_KELVIN = 1.0;

    private final CabinetPlan plan;
    private final double cutOffCelsius;
    private final boolean[] isJudged;
    private final int[] hotSamples;
    private final long[] hotAtNanos;
    private Latch latch;

    CutOff(CabinetPlan plan, LimitRules limits, Latch latch) {
        this.plan = plan;
        this.cutOffCelsius = limits.cutOff().celsius();
        this.latch = latch;
        List<ProbePlan> probes = plan.probes();
        isJudged = new boolean[probes.size()];
        hotSamples = new int[probes.size()];
        hotAtNanos = new long[probes.size()];
        for (int i = 0; i < isJudged.length; i++) {
            ProbePlan probe = probes.get(i);
            isJudged[i] =
                    probe.sensor().isThermometer()
                            && (probe.isGuardProbe()
                                    || probe.place().kind() != ProbePlace.Kind.AMBIENT);
        }
    }

    /** Looks at this tick's readings. Returns whether any judged probe is hot now. */
    boolean judge(CabinetState state) {
        boolean isAnyHot = false;
        for (int i = 0; i < isJudged.length; i++) {
            if (!isJudged[i] || !state.isTrusted(i)) {
                continue;
            }
            if (state.celsius(i) < cutOffCelsius) {
                hotSamples[i] = 0;
                continue;
            }
            isAnyHot = true;
            countHot(i, state);
        }
        return isAnyHot;
    }

    private void countHot(int probe, CabinetState state) {
        long atNanos = state.readings().get(probe).reading().sampledAtNanos();
        if (hotSamples[probe] > 0 && atNanos == hotAtNanos[probe]) {
            return;
        }
        hotAtNanos[probe] = atNanos;
        hotSamples[probe]++;
        if (hotSamples[probe] >= TRIPPING_SAMPLES && !isTripped()) {
            latch =
                    new Latch.Tripped(
                            "probe "
                                    + plan.probes().get(probe).name()
                                    + " read "
                                    + Texts.celsius(state.celsius(probe))
                                    + ", cut-off at "
                                    + Texts.celsius(cutOffCelsius));
        }
    }

    Latch latch() {
        return latch;
    }

    boolean isTripped() {
        return latch instanceof Latch.Tripped;
    }

    /** Why a reset is not allowed now, in plain words; empty when it is. */
    Optional<String> resetRefusal(CabinetState state) {
        if (!isTripped()) {
            return Optional.of("the cut-off has not tripped: there is nothing to reset");
        }
        if (state.isBlind()) {
            return Optional.of(
                    "no air probe gives a good reading, so nobody can tell that it is cool enough:"
                            + " repair a probe first");
        }
        double highest = cutOffCelsius - RESET_DISTANCE_KELVIN;
        for (int i = 0; i < isJudged.length; i++) {
            if (isJudged[i] && state.isTrusted(i) && state.celsius(i) >= highest) {
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
