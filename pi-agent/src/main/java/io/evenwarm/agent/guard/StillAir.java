package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.ProbePlace;

/**
 * Holds heat back where still air may cook a shelf that no believed probe sees. Without the fan the
 * top runs away from the rest; a cabinet whose top probe lies, or is lost, must not be heated by
 * what the cool probes below say.
 */
final class StillAir {

    /** Believed probes that part by more than this do so for want of air, K. */
    private static final double PARTED_KELVIN = 1.0;

    private final boolean[] isTop;
    private final boolean[] isInside;
    private final boolean hasTop;

    StillAir(CabinetPlan plan) {
        int count = plan.probes().size();
        isTop = new boolean[count];
        isInside = new boolean[count];
        boolean anyTop = false;
        for (int i = 0; i < count; i++) {
            ProbePlan probe = plan.probes().get(i);
            boolean isAir = probe.sensor().isThermometer() && probe.place().kind().isAir();
            isInside[i] = isAir;
            isTop[i] = isAir && probe.place().kind() == ProbePlace.Kind.TOP;
            anyTop |= isTop[i];
        }
        hasTop = anyTop;
    }

    /**
     * Returns whether heat is to be held back now.
     *
     * @param isFanFound whether the fan is known not to mix the air
     */
    boolean holds(CabinetState state, boolean isFanFound, double cutOffCelsius) {
        if (state.isBlind()) {
            return false;
        }
        if (isFanFound && hasTop && !seesTop(state)) {
            return true;
        }
        return (isFanFound || state.spreadKelvin() > PARTED_KELVIN)
                && isAnyoneHot(state, cutOffCelsius);
    }

    private boolean seesTop(CabinetState state) {
        for (int i = 0; i < isTop.length; i++) {
            if (isTop[i] && state.isTrusted(i)) {
                return true;
            }
        }
        return false;
    }

    /** Whether any probe in the air is hot, be it believed or not. */
    private boolean isAnyoneHot(CabinetState state, double cutOffCelsius) {
        for (int i = 0; i < isInside.length; i++) {
            if (isInside[i] && state.isGood(i) && state.celsius(i) >= cutOffCelsius) {
                return true;
            }
        }
        return false;
    }
}
