package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.plan.CabinetPlan;

/** A cabinet's readings in words. */
final class ProbeTexts {

    private ProbeTexts() {}

    /** For example {@code warmest top 33.12 °C, coldest bottom 31.44 °C}. */
    static String airProbes(CabinetPlan plan, CabinetState state) {
        if (state.isBlind()) {
            return "no good air probe";
        }
        int warmest = state.warmestAir();
        int coldest = state.coldestAir();
        if (warmest == coldest) {
            return named(plan, state, warmest) + ", the only good air probe";
        }
        return "warmest "
                + named(plan, state, warmest)
                + ", coldest "
                + named(plan, state, coldest);
    }

    private static String named(CabinetPlan plan, CabinetState state, int probe) {
        return plan.probes().get(probe).name() + " " + Texts.celsius(state.celsius(probe));
    }
}
