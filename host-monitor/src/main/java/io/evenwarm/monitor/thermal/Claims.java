package io.evenwarm.monitor.thermal;

import java.util.OptionalDouble;

/**
 * What is said of the fitted constants: a figure with its interval, or that and why there is none.
 */
final class Claims {

    /**
     * Half widths of the 95 % intervals in the fit's own deviations. The fit's are those of its
     * rows, whose deviations are set and not estimated; so these factors were taken from 280
     * simulated cabinets whose seeds no check uses.
     */
    private static final double RATIO_FACTOR = 1.65;

    private static final double RATIO_FACTOR_WITH_TUB = 1.4;

    /** A set point that goes with the hour goes with the room, and the two are harder to part. */
    private static final double RATIO_FACTOR_WITH_NIGHTS = 2.7;

    private static final double RATIO_FACTOR_WITH_CUT = 1.95;

    private static final double EGG_FACTOR = 1.4;
    private static final double EGG_FACTOR_WITH_TUB = 1.05;

    /** Mains move a meter's figure from the mean of days by about so much. No source. */
    private static final double METER_SHARE = 0.03;

    /** Of wider intervals than this no value is claimed: a half of it, or twice. */
    private static final double WIDEST = Math.log(2);

    private static final String WHAT_WOULD_TELL_EGGS =
            "a probe among the eggs, a set point that is some degrees lower at night, or the"
                    + " readings after a power cut of two hours or more";

    private final Excitation shown;
    private final ThermalFacts facts;
    private final Uncertainty uncertainty;

    Claims(Excitation shown, ThermalFacts facts, Uncertainty uncertainty) {
        this.shown = shown;
        this.facts = facts;
        this.uncertainty = uncertainty;
    }

    ThermalFit fit(ThermalFit.HeldOut heldOut) {
        double[] x = uncertainty.at();
        double half = ratioFactor() * uncertainty.deviation(ThermalFitter.FULL_HEAT);
        Figure.Known ratio = known(-x[ThermalFitter.FULL_HEAT], half);
        return new ThermalFit(
                ThermalFitter.constants(x), ratio, loss(ratio, half), eggs(), heldOut, uncertainty);
    }

    private double ratioFactor() {
        if (shown.hasNights()) {
            return RATIO_FACTOR_WITH_NIGHTS;
        }
        if (shown.hasCut()) {
            return RATIO_FACTOR_WITH_CUT;
        }
        return shown.hasTubProbe() ? RATIO_FACTOR_WITH_TUB : RATIO_FACTOR;
    }

    private static Figure.Known known(double logarithm, double half) {
        return new Figure.Known(
                Math.exp(logarithm), Math.exp(logarithm - half), Math.exp(logarithm + half));
    }

    private Figure loss(Figure.Known ratio, double half) {
        OptionalDouble measured = facts.measuredWatts();
        if (measured.isEmpty()) {
            return new Figure.NotKnown(
                    "the heater's true power was never measured; it moves with the mains voltage and"
                            + " is seldom what is written on it",
                    "a meter's figure of the heater's watts while it is on");
        }
        return known(
                Math.log(ratio.value() * measured.getAsDouble()), Math.hypot(half, METER_SHARE));
    }

    private Figure eggs() {
        boolean hasTub = shown.hasTubProbe();
        if (!shown.tellsEggs()) {
            return new Figure.NotKnown(
                    "the air was held too even for the eggs behind it to show",
                    WHAT_WOULD_TELL_EGGS);
        }
        double factor = hasTub ? EGG_FACTOR_WITH_TUB : EGG_FACTOR;
        double half = factor * uncertainty.deviation(ThermalFitter.EGG_LAG);
        if (half > WIDEST) {
            return new Figure.NotKnown(
                    "the readings fit to eggs that are twice as slow or as fast as well",
                    WHAT_WOULD_TELL_EGGS);
        }
        return known(uncertainty.at()[ThermalFitter.EGG_LAG], half);
    }
}
