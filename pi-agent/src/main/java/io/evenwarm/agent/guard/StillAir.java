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

    /** Air at the cut-off cools below it within this time without heat; a wrong probe does not. */
    private static final double TRIAL_SECONDS = 900;

    /** A top that is colder than what is below by more than this is not the top, K. */
    private static final double COLDER_TOP_KELVIN = 0.5;

    /** So often a probe that was set aside and does not cool is tried again. */
    private static final double TRIAL_EVERY_SECONDS = 6 * 3600;

    private final boolean[] isTop;
    private final boolean[] isInside;
    private final boolean hasTop;
    private final double[] hotSeconds;

    StillAir(CabinetPlan plan) {
        int count = plan.probes().size();
        isTop = new boolean[count];
        isInside = new boolean[count];
        hotSeconds = new double[count];
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
     * @param elapsedSeconds since the last tick
     */
    boolean holds(
            CabinetState state, boolean isFanFound, double cutOffCelsius, double elapsedSeconds) {
        boolean isTried = isTried(state, cutOffCelsius, elapsedSeconds);
        if (state.isBlind()) {
            return false;
        }
        if (isTried) {
            return true;
        }
        if (isFanFound && hasTop && !seesTop(state)) {
            return true;
        }
        return (isFanFound || state.spreadKelvin() > PARTED_KELVIN)
                && isAnyoneHot(state, cutOffCelsius);
    }

    /**
     * A probe that was set aside may have been right: the top of still air, beside a middle that
     * lies. One at the cut-off costs a trial without heat. Hot air falls below it within that, and
     * is held there from then on; a probe that stays is left alone for hours.
     */
    private boolean isTried(CabinetState state, double cutOffCelsius, double elapsedSeconds) {
        boolean isTried = false;
        for (int i = 0; i < isInside.length; i++) {
            boolean isHot =
                    isInside[i]
                            && state.isGood(i)
                            && !state.isTrusted(i)
                            && state.celsius(i) >= cutOffCelsius;
            hotSeconds[i] = isHot ? (hotSeconds[i] + elapsedSeconds) % TRIAL_EVERY_SECONDS : 0;
            isTried |= isHot && hotSeconds[i] < TRIAL_SECONDS;
        }
        return isTried;
    }

    /**
     * In still air the top is the warmest place. A probe up there that is colder than one below
     * does not tell the top, whatever it is that ails it.
     */
    private boolean seesTop(CabinetState state) {
        double warmestTop = Double.NEGATIVE_INFINITY;
        double warmestBelow = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < isTop.length; i++) {
            if (!isInside[i] || !state.isTrusted(i) || !state.isGood(i)) {
                continue;
            }
            if (isTop[i]) {
                warmestTop = Math.max(warmestTop, state.celsius(i));
            } else {
                warmestBelow = Math.max(warmestBelow, state.celsius(i));
            }
        }
        return warmestTop > warmestBelow - COLDER_TOP_KELVIN;
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
