package io.evenwarm.agent.guard.health;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.ProbePlace;
import java.util.Arrays;

/** Which of a cabinet's probes are learned from, and where they hang. */
final class WatchedProbes {

    private WatchedProbes() {}

    /** The thermometers in the air, by their place in the plan. */
    static int[] inAir(CabinetPlan plan) {
        return probes(plan, true);
    }

    /** The thermometers in tubs, by their place in the plan. */
    static int[] inTubs(CabinetPlan plan) {
        return probes(plan, false);
    }

    /** For each of all probes its place among these, or -1. */
    static int[] places(int[] probes, int all) {
        int[] places = new int[all];
        Arrays.fill(places, -1);
        for (int i = 0; i < probes.length; i++) {
            places[probes[i]] = i;
        }
        return places;
    }

    private static int[] probes(CabinetPlan plan, boolean inAir) {
        int[] found = new int[plan.probes().size()];
        int count = 0;
        for (int i = 0; i < found.length; i++) {
            ProbePlan probe = plan.probes().get(i);
            ProbePlace.Kind kind = probe.place().kind();
            if (probe.sensor().isThermometer()
                    && (inAir ? kind.isAir() : kind == ProbePlace.Kind.TUB)) {
                found[count++] = i;
            }
        }
        return Arrays.copyOf(found, count);
    }

    /** 1 at the top, 0 in the middle, -1 at the bottom, NaN where the plan names no layer. */
    static double[] heights(CabinetPlan plan, int[] air) {
        double[] heights = new double[air.length];
        for (int i = 0; i < air.length; i++) {
            heights[i] =
                    switch (plan.probes().get(air[i]).place().kind()) {
                        case TOP -> 1;
                        case MIDDLE -> 0;
                        case BOTTOM -> -1;
                        case TUB, AMBIENT, OTHER -> Double.NaN;
                    };
        }
        return heights;
    }
}
