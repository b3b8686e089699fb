package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.guard.health.CabinetHealth;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbePlace;
import java.util.Arrays;

/**
 * Holds heat back where still air may cook a shelf that no believed probe sees. Without the fan the
 * top runs away from the rest; a cabinet whose top probe lies, or is lost, must not be heated by
 * what the cool probes below say.
 */
final class StillAir {

    /** Believed probes that part by more than this do so for want of air, K. */
    private static final double PARTED_KELVIN = 1.0;

    /** And by so much more than was learned for the heat at hand, K. */
    static final double BEYOND_USUAL_KELVIN = 0.5;

    /** A top that is colder than what is below by more than this is not the top, K. */
    private static final double COLDER_TOP_KELVIN = 0.5;

    /** So soon a probe that was set aside and does not cool is tried again. */
    private static final double TRIED_AGAIN_SECONDS = 6 * 3600;

    /** And after each trial more that it kept its lead through, twice as late, up to this. */
    private static final double MOST_TRIED_AGAIN_SECONDS = 24 * 3600;

    /** So far below the cut-off a trial is over before its time, K. */
    private static final double COOLED_KELVIN = 0.3;

    /** A noisy probe's peaks are no air: it counts by its mean of so long. */
    private static final double NOISY_MEAN_SECONDS = 60;

    private final boolean[] isTop;
    private final boolean[] isInside;
    private final boolean hasTop;
    private final double[] hotSeconds;
    private final double[] leftAloneSeconds;
    private final double[] nextAloneSeconds;
    private final double[] firstLeadKelvin;
    private final double[] countedCelsius;
    private boolean isTrying;

    StillAir(CabinetPlan plan) {
        int count = plan.probes().size();
        isTop = new boolean[count];
        isInside = new boolean[count];
        hotSeconds = new double[count];
        leftAloneSeconds = new double[count];
        nextAloneSeconds = new double[count];
        Arrays.fill(nextAloneSeconds, TRIED_AGAIN_SECONDS);
        firstLeadKelvin = new double[count];
        countedCelsius = new double[count];
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
     * @param trust why probes are set aside
     * @param isFanFound whether the fan is known not to mix the air
     * @param beyondUsualKelvin by how much believed probes part more than was learned for the heat
     *     at hand, K; infinite before anything was: cabinets whose layers are always far apart
     *     would else be left cold by any probe that stands at the cut-off for weeks
     * @param elapsedSeconds since the last tick
     */
    boolean holds(
            CabinetState state,
            TrustBook trust,
            boolean isFanFound,
            double beyondUsualKelvin,
            double cutOffCelsius,
            double elapsedSeconds) {
        count(state, trust, elapsedSeconds);
        isTrying = !state.isBlind() && isTried(state, trust, cutOffCelsius, elapsedSeconds);
        if (isTrying || state.isBlind()) {
            return isTrying;
        }
        if (isFanFound && hasTop && !seesTop(state)) {
            return true;
        }
        boolean isParted =
                state.spreadKelvin() > PARTED_KELVIN && beyondUsualKelvin > BEYOND_USUAL_KELVIN;
        return (isFanFound || isParted) && isAnyoneHot(state, cutOffCelsius);
    }

    /** By how much believed probes in the air part more than was learned, K. */
    double beyondUsualKelvin(CabinetState state, CabinetHealth health) {
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < isInside.length; i++) {
            double deviation = health.deviationKelvin(i);
            if (isInside[i] && state.isTrusted(i) && !Double.isNaN(deviation)) {
                least = Math.min(least, deviation);
                most = Math.max(most, deviation);
            }
        }
        return health.isLayeringLearned() && most >= least
                ? most - least
                : Double.POSITIVE_INFINITY;
    }

    /** Whether heat is held back to see what a probe that was set aside does without it. */
    boolean isTrying() {
        return isTrying;
    }

    private void count(CabinetState state, TrustBook trust, double elapsedSeconds) {
        for (int i = 0; i < isInside.length; i++) {
            if (!state.isGood(i)) {
                continue;
            }
            double weight =
                    trust.isSetAside(i, FindingCode.PROBE_NOISY)
                            ? Math.min(1, elapsedSeconds / NOISY_MEAN_SECONDS)
                            : 1;
            countedCelsius[i] += (state.celsius(i) - countedCelsius[i]) * weight;
        }
    }

    /**
     * A probe that was set aside may have been right: the top of still air, beside a middle that
     * lies. One at the cut-off costs a trial without heat. Hot air comes nearer to the others then,
     * and is held below the cut-off each time from then on; a probe that keeps its lead is left
     * alone for hours. How long and how much are {@link LoneHotProbe}'s, and a probe that was on
     * its trial has had it.
     */
    private boolean isTried(
            CabinetState state, TrustBook trust, double cutOffCelsius, double elapsedSeconds) {
        boolean isTried = false;
        double others = Double.NaN;
        for (int i = 0; i < isInside.length; i++) {
            leftAloneSeconds[i] = Math.max(0, leftAloneSeconds[i] - elapsedSeconds);
            boolean isJudged =
                    isInside[i]
                            && state.isGood(i)
                            && !state.isTrusted(i)
                            && leftAloneSeconds[i] == 0
                            && !trust.isSetAside(i, LoneHotProbe.CAUSE);
            double celsius = isJudged ? countedCelsius[i] : Double.NaN;
            if (!isJudged || (hotSeconds[i] == 0 && celsius < cutOffCelsius)) {
                hotSeconds[i] = 0;
                continue;
            }
            others = Double.isNaN(others) ? believedCelsius(state) : others;
            if (hotSeconds[i] == 0) {
                firstLeadKelvin[i] = celsius - others;
            }
            hotSeconds[i] += elapsedSeconds;
            isTried = true;
            boolean hasCooled = celsius < cutOffCelsius - COOLED_KELVIN;
            if (hasCooled || hotSeconds[i] >= LoneHotProbe.TRIAL_SECONDS) {
                hotSeconds[i] = 0;
                boolean hasKeptLead =
                        celsius - others > LoneHotProbe.KEPT_LEAD_SHARE * firstLeadKelvin[i];
                leftAloneSeconds[i] = hasKeptLead ? nextAloneSeconds[i] : 0;
                nextAloneSeconds[i] =
                        hasKeptLead
                                ? Math.min(2 * nextAloneSeconds[i], MOST_TRIED_AGAIN_SECONDS)
                                : TRIED_AGAIN_SECONDS;
            }
        }
        return isTried;
    }

    /** Mean of the believed probes in the air, °C. */
    private double believedCelsius(CabinetState state) {
        double sum = 0;
        int count = 0;
        for (int i = 0; i < isInside.length; i++) {
            if (isInside[i] && state.isTrusted(i) && state.isGood(i)) {
                sum += state.celsius(i);
                count++;
            }
        }
        return sum / count;
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
            if (isInside[i] && state.isGood(i) && countedCelsius[i] >= cutOffCelsius) {
                return true;
            }
        }
        return false;
    }
}
