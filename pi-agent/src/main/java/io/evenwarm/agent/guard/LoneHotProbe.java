package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.message.FindingCode;

/**
 * One air probe at the cut-off that no other probe confirms: hot air where it sits, or a probe that
 * lies? Both are dangerous: heating on may cook a shelf under a stopped fan, and giving the heat up
 * for a liar leaves every egg to go cold. So heat is held off and the cabinet answers itself.
 *
 * <p>With the heater off, air that the heater had made hotter in one place comes back to the rest:
 * the lead of the hot probe over the others shrinks. A wrong probe keeps its lead, whatever the
 * heater does. After {@value #TRIAL_SECONDS} s:
 *
 * <ul>
 *   <li>the lead is {@value #KEPT_LEAD_SHARE} of what it was or more, and the others did not get
 *       warmer: the probe is contradicted, and set aside;
 *   <li>the lead shrank and the probe is below the cut-off: it was hot there. Heat comes back;
 *   <li>neither: the trial goes on, and trips the latch when the probe still is at the cut-off
 *       after {@value #LONGEST_TRIAL_SECONDS} s.
 * </ul>
 *
 * The latch trips at once when another probe gets hot too, or when all others get warmer with the
 * heater off: heat then comes that nobody asked for.
 *
 * <p>A probe that was set aside is watched on. Where its lead grows by more than {@value
 * #LEAD_GROWTH_KELVIN} K faster than any probe drifts, it is believed again, with heat held off:
 * the verdict may have been wrong. It is believed, too, once it has been back among the others for
 * {@value #BACK_SECONDS} s.
 */
final class LoneHotProbe {

    static final FindingCode CAUSE = FindingCode.PROBES_DISAGREE;

    /** Long enough for a heater's own warmth to leave it with the fan stopped: 500 s. */
    static final double TRIAL_SECONDS = 900;

    static final double LONGEST_TRIAL_SECONDS = 2700;
    static final double KEPT_LEAD_SHARE = 0.85;

    /** All others warmer by this much with the heater off: it heats though it must not. */
    static final double WARMING_KELVIN = 0.3;

    static final double LEAD_GROWTH_KELVIN = 1.0;

    /** More than the 0.2 K an hour at which the worst probes drift. */
    static final double LEAD_GROWTH_KELVIN_PER_SECOND = 0.3 / 3600;

    static final double BACK_SECONDS = 1800;
    private static final double BACK_KELVIN = 0.75;

    private static final int NONE = -1;
    private static final double NANOS_PER_SECOND = 1e9;

    /** What the trial says in a tick. */
    enum Verdict {
        /** No trial is under way. */
        NONE,
        /** Heat must wait. */
        HOLD,
        /** The latch trips. */
        TRIP
    }

    private final boolean[] isAir;
    private final double[] asideLeadKelvin;
    private final double[] backSeconds;

    private int onTrial = NONE;
    private long sinceNanos;
    private double firstLeadKelvin;
    private double firstOthersCelsius;
    private double leadKelvin;
    private String tripReason = "";

    LoneHotProbe(CabinetPlan plan, boolean[] isAir) {
        this.isAir = isAir;
        asideLeadKelvin = new double[plan.probes().size()];
        backSeconds = new double[plan.probes().size()];
    }

    /** The probe on trial, or -1. */
    int onTrial() {
        return onTrial;
    }

    /** Its lead over the other air probes now, K. */
    double leadKelvin() {
        return leadKelvin;
    }

    /** Why the last verdict was {@link Verdict#TRIP}. */
    String tripReason() {
        return tripReason;
    }

    /** Begins a trial, unless one is under way. */
    void begin(int probe, CabinetState state, long nowNanos) {
        if (onTrial != NONE) {
            return;
        }
        onTrial = probe;
        sinceNanos = nowNanos;
        firstOthersCelsius = othersCelsius(probe, state);
        firstLeadKelvin = state.celsius(probe) - firstOthersCelsius;
        leadKelvin = firstLeadKelvin;
    }

    void end() {
        onTrial = NONE;
    }

    /** Judges a trial that is under way, and those set aside earlier. */
    Verdict judge(
            CabinetState state,
            TrustBook trust,
            double cutOffCelsius,
            double elapsedSeconds,
            long nowNanos) {
        Verdict aside = watchThoseSetAside(state, trust, cutOffCelsius, elapsedSeconds, nowNanos);
        if (onTrial == NONE || aside == Verdict.HOLD) {
            return aside;
        }
        if (!state.isTrusted(onTrial)) {
            // Lost, or set aside for another cause: the others count.
            end();
            return Verdict.NONE;
        }
        double others = othersCelsius(onTrial, state);
        if (Double.isNaN(others)) {
            boolean isHot = state.celsius(onTrial) >= cutOffCelsius;
            tripReason = "no other probe is left to contradict it";
            end();
            return isHot ? Verdict.TRIP : Verdict.NONE;
        }
        leadKelvin = state.celsius(onTrial) - others;
        if (others - firstOthersCelsius >= WARMING_KELVIN) {
            tripReason = "the other probes got warmer with the heater off";
            end();
            return Verdict.TRIP;
        }
        return outcome(state, trust, cutOffCelsius, (nowNanos - sinceNanos) / NANOS_PER_SECOND);
    }

    private Verdict outcome(
            CabinetState state, TrustBook trust, double cutOffCelsius, double seconds) {
        if (seconds < TRIAL_SECONDS) {
            return Verdict.HOLD;
        }
        if (leadKelvin >= KEPT_LEAD_SHARE * firstLeadKelvin) {
            if (trust.setAside(onTrial, CAUSE, state)) {
                asideLeadKelvin[onTrial] = leadKelvin;
                backSeconds[onTrial] = 0;
            }
            end();
            return Verdict.NONE;
        }
        boolean isHot = state.celsius(onTrial) >= cutOffCelsius;
        if (!isHot) {
            end();
            return Verdict.NONE;
        }
        if (seconds >= LONGEST_TRIAL_SECONDS) {
            tripReason = "it stayed hot with the heater off";
            end();
            return Verdict.TRIP;
        }
        return Verdict.HOLD;
    }

    private Verdict watchThoseSetAside(
            CabinetState state,
            TrustBook trust,
            double cutOffCelsius,
            double elapsedSeconds,
            long nowNanos) {
        for (int i = 0; i < isAir.length; i++) {
            if (!isAir[i] || !trust.isSetAside(i, CAUSE) || !state.isGood(i)) {
                continue;
            }
            double others = othersCelsius(i, state);
            if (Double.isNaN(others)) {
                continue;
            }
            double lead = state.celsius(i) - others;
            boolean isBack = Math.abs(lead) < BACK_KELVIN;
            backSeconds[i] = isBack ? backSeconds[i] + elapsedSeconds : 0;
            if (backSeconds[i] >= BACK_SECONDS) {
                trust.restore(i, CAUSE);
            } else if (lead > asideLeadKelvin[i] + LEAD_GROWTH_KELVIN
                    && state.celsius(i) >= cutOffCelsius) {
                trust.restore(i, CAUSE);
                begin(i, state, nowNanos);
                return Verdict.HOLD;
            } else if (lead > asideLeadKelvin[i]) {
                asideLeadKelvin[i] +=
                        Math.min(
                                lead - asideLeadKelvin[i],
                                LEAD_GROWTH_KELVIN_PER_SECOND * elapsedSeconds);
            }
        }
        return Verdict.NONE;
    }

    /** Mean of the other believed air probes; NaN when there is none. */
    private double othersCelsius(int probe, CabinetState state) {
        double sum = 0;
        int count = 0;
        for (int i = 0; i < isAir.length; i++) {
            if (i != probe && isAir[i] && state.isTrusted(i)) {
                sum += state.celsius(i);
                count++;
            }
        }
        return count == 0 ? Double.NaN : sum / count;
    }

    /** Whether another believed air probe is there to contradict this one. */
    boolean hasOthers(int probe, CabinetState state) {
        return !Double.isNaN(othersCelsius(probe, state));
    }
}
