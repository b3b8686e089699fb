package io.evenwarm.monitor.alarm;

import java.time.Duration;
import java.util.OptionalDouble;

/**
 * The limits by which the monitor itself judges one cabinet, beside what its agent finds. Each
 * default is common practice of ours without an outside source, unless one is named; docs/alarms.md
 * says why.
 *
 * @param air of the air's temperature
 * @param spread of how far probes may be apart
 * @param humidity of the air's humidity
 */
public record CabinetLimits(Air air, Spread spread, Humidity humidity) {

    private static final Duration LONGEST_DELAY = Duration.ofDays(1);
    private static final double KELVIN_MAX = 20;

    /** Below the constants that the defaults are checked against. */
    public static final CabinetLimits DEFAULT =
            new CabinetLimits(Air.DEFAULT, Spread.DEFAULT, Humidity.DEFAULT);

    /**
     * Two pairs of limits, as distances from the set point in force: "look" and "act now".
     *
     * @param lookBelowKelvin below set point − this, a person should look; empty: at the agent's
     *     own cold limit, which follows its programme's ramps
     * @param lookAboveKelvin above set point + this, a person should look; empty: at the agent's
     *     own warm limit
     * @param actBelowKelvin below set point − this, a person must act; empty: {@value
     *     #ACT_BELOW_LOOK_KELVIN} K below the limit for "look"
     * @param actAboveKelvin above set point + this, a person must act; empty: at the agent's
     *     cut-off
     * @param deadBandKelvin back inside a limit by this before it counts as over
     * @param lookDelay on-delay of "look": long, because the agent's own finding, which knows of
     *     openings and warm-ups, comes first
     * @param actColdDelay on-delay of "act now" by cold
     * @param actWarmDelay on-delay of "act now" by heat
     * @param offDelay off-delay of all four
     */
    public record Air(
            OptionalDouble lookBelowKelvin,
            OptionalDouble lookAboveKelvin,
            OptionalDouble actBelowKelvin,
            OptionalDouble actAboveKelvin,
            double deadBandKelvin,
            Duration lookDelay,
            Duration actColdDelay,
            Duration actWarmDelay,
            Duration offDelay) {

        static final double ACT_BELOW_LOOK_KELVIN = 2;

        /** 60 s: the usual delay for temperatures in ISA-18.2 and EEMUA 191 (from memory). */
        public static final Air DEFAULT =
                new Air(
                        OptionalDouble.empty(),
                        OptionalDouble.empty(),
                        OptionalDouble.empty(),
                        OptionalDouble.empty(),
                        0.2,
                        Duration.ofMinutes(30),
                        Duration.ofMinutes(30),
                        Duration.ofSeconds(60),
                        Duration.ofSeconds(60));

        public Air {
            requireKelvin("lookBelowKelvin", lookBelowKelvin);
            requireKelvin("lookAboveKelvin", lookAboveKelvin);
            requireKelvin("actBelowKelvin", actBelowKelvin);
            requireKelvin("actAboveKelvin", actAboveKelvin);
            requireBetween("deadBandKelvin", deadBandKelvin, 0, KELVIN_MAX);
            requireDelay("lookDelay", lookDelay);
            requireDelay("actColdDelay", actColdDelay);
            requireDelay("actWarmDelay", actWarmDelay);
            requireDelay("offDelay", offDelay);
            requireOrder("actBelowKelvin", actBelowKelvin, "lookBelowKelvin", lookBelowKelvin);
            requireOrder("actAboveKelvin", actAboveKelvin, "lookAboveKelvin", lookAboveKelvin);
        }

        private static void requireKelvin(String what, OptionalDouble kelvin) {
            if (kelvin.isPresent()) {
                requireBetween(what, kelvin.getAsDouble(), Double.MIN_VALUE, KELVIN_MAX);
            }
        }

        private static void requireOrder(
                String outer,
                OptionalDouble outerKelvin,
                String inner,
                OptionalDouble innerKelvin) {
            if (outerKelvin.isPresent()
                    && innerKelvin.isPresent()
                    && outerKelvin.getAsDouble() <= innerKelvin.getAsDouble()) {
                throw new IllegalArgumentException(
                        outer
                                + " must be more than "
                                + inner
                                + ", "
                                + innerKelvin.getAsDouble()
                                + " K, but was "
                                + outerKelvin.getAsDouble()
                                + " K");
            }
        }
    }

    /**
     * How far probes may be apart.
     *
     * @param unevenKelvin mean of the top probes above mean of the bottom ones, or below
     * @param unevenDelay on-delay of that
     * @param disagreeKelvin between two probes of one place
     * @param disagreeDelay on-delay of that; both as the agent's own defaults
     * @param deadBandKelvin closer by this before it counts as over
     * @param offDelay off-delay of both
     */
    public record Spread(
            double unevenKelvin,
            Duration unevenDelay,
            double disagreeKelvin,
            Duration disagreeDelay,
            double deadBandKelvin,
            Duration offDelay) {

        public static final Spread DEFAULT =
                new Spread(
                        2.5,
                        Duration.ofMinutes(30),
                        1.5,
                        Duration.ofMinutes(10),
                        0.3,
                        Duration.ofMinutes(5));

        public Spread {
            requireBetween("unevenKelvin", unevenKelvin, Double.MIN_VALUE, KELVIN_MAX);
            requireBetween("disagreeKelvin", disagreeKelvin, Double.MIN_VALUE, KELVIN_MAX);
            requireBetween("deadBandKelvin", deadBandKelvin, 0, KELVIN_MAX);
            requireDelay("unevenDelay", unevenDelay);
            requireDelay("disagreeDelay", disagreeDelay);
            requireDelay("offDelay", offDelay);
        }
    }

    /**
     * Relative humidity of the cabinet's air. Eggs lie in tubs that keep their own, so these are
     * wide; 0 and 100 are never passed and switch a limit off.
     *
     * @param dryPercent below this it is too dry
     * @param dampPercent above this it is too damp: water will condense
     * @param deadBandPercent back inside by this before it counts as over
     * @param onDelay on-delay of both
     * @param offDelay off-delay of both
     */
    public record Humidity(
            double dryPercent,
            double dampPercent,
            double deadBandPercent,
            Duration onDelay,
            Duration offDelay) {

        public static final Humidity DEFAULT =
                new Humidity(30, 97, 2, Duration.ofMinutes(60), Duration.ofMinutes(5));

        public Humidity {
            requireBetween("dryPercent", dryPercent, 0, 100);
            requireBetween("dampPercent", dampPercent, 0, 100);
            requireBetween("deadBandPercent", deadBandPercent, 0, 100);
            requireDelay("onDelay", onDelay);
            requireDelay("offDelay", offDelay);
            if (dryPercent >= dampPercent) {
                throw new IllegalArgumentException(
                        "dryPercent must be less than dampPercent, "
                                + dampPercent
                                + " %, but was "
                                + dryPercent
                                + " %");
            }
        }
    }

    private static void requireBetween(String what, double value, double least, double most) {
        if (!(value >= least && value <= most)) {
            String from = least == Double.MIN_VALUE ? "more than 0" : Double.toString(least);
            throw new IllegalArgumentException(
                    what + " must be " + from + " to " + most + " but was " + value);
        }
    }

    private static void requireDelay(String what, Duration delay) {
        if (delay.isNegative() || delay.compareTo(LONGEST_DELAY) > 0) {
            throw new IllegalArgumentException(
                    what + " must be 0 to " + LONGEST_DELAY + " but was " + delay);
        }
    }
}
