package io.evenwarm.agent.cabinet;

import io.evenwarm.message.ProbeReading;
import java.util.List;

/**
 * What one tick's readings say about a cabinet. Immutable. Probes are known by their index in the
 * plan.
 *
 * <p>Methods that return a temperature throw {@link IllegalStateException} where there is none, so
 * that no number stands for "unknown".
 */
public final class CabinetState {

    private static final int NONE = -1;

    private final List<ProbeReading> readings;
    // Never written after construction; NaN marks a probe without a good temperature and leaves
    // this class through no method.
    private final double[] goodCelsius;
    private final ProbeTrust trust;
    private final int trustedAirProbes;
    private final double processCelsius;
    private final int warmestAir;
    private final int coldestAir;

    CabinetState(
            List<ProbeReading> readings,
            double[] goodCelsius,
            ProbeTrust trust,
            int trustedAirProbes,
            double processCelsius,
            int warmestAir,
            int coldestAir) {
        this.readings = readings;
        this.goodCelsius = goodCelsius;
        this.trust = trust;
        this.trustedAirProbes = trustedAirProbes;
        this.processCelsius = processCelsius;
        this.warmestAir = warmestAir;
        this.coldestAir = coldestAir;
    }

    /** The readings behind this state, in the plan's order. */
    public List<ProbeReading> readings() {
        return readings;
    }

    /** Whether no good air probe is left that may be believed: nothing is known of the air then. */
    public boolean isBlind() {
        return warmestAir == NONE;
    }

    /** Whether the probe's reading is good and a temperature, be it believed or not. */
    public boolean isGood(int probe) {
        return !Double.isNaN(goodCelsius[probe]);
    }

    /** Whether the probe's reading is good, a temperature, and may be believed. */
    public boolean isTrusted(int probe) {
        return isGood(probe) && trust.isTrusted(probe);
    }

    /** How many air probes are good and may be believed. */
    public int trustedAirProbes() {
        return trustedAirProbes;
    }

    /** The probe's temperature; only when {@link #isGood}. */
    public double celsius(int probe) {
        if (!isGood(probe)) {
            throw new IllegalStateException("probe " + probe + " has no good reading");
        }
        return goodCelsius[probe];
    }

    /** What control steers by; only when not {@link #isBlind}. See {@link CabinetObserver}. */
    public double processCelsius() {
        requireSight();
        return processCelsius;
    }

    /** Index of the warmest believed air probe; only when not {@link #isBlind}. */
    public int warmestAir() {
        requireSight();
        return warmestAir;
    }

    /** Index of the coldest believed air probe; only when not {@link #isBlind}. */
    public int coldestAir() {
        requireSight();
        return coldestAir;
    }

    /** Warmest less coldest believed air probe, 0 with one; only when not {@link #isBlind}. */
    public double spreadKelvin() {
        requireSight();
        return goodCelsius[warmestAir] - goodCelsius[coldestAir];
    }

    private void requireSight() {
        if (isBlind()) {
            throw new IllegalStateException("no good air probe");
        }
    }
}
