package io.evenwarm.monitor.outage;

import io.evenwarm.monitor.thermal.Span;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/**
 * What the eggs of a tub had over all its time. None of it was measured: what was estimated while
 * the air was read and what was reconstructed of times without readings are counted apart.
 *
 * @param bins hours by the most likely temperature, the coldest first; none is empty
 * @param estimatedHours while the air was read
 * @param reconstructedHours of times without readings
 * @param unknownHours of which nothing, or only the ends of what may be, is known
 * @param leastCelsius of the most likely values, with the band then; empty where nothing is known
 * @param greatestCelsius the same of the greatest
 */
public record TubCourse(
        List<Bin> bins,
        double estimatedHours,
        double reconstructedHours,
        double unknownHours,
        Optional<Span> leastCelsius,
        Optional<Span> greatestCelsius,
        List<Beyond> limits) {

    /** Width of a bin, K. */
    public static final double BIN_KELVIN = 0.5;

    public TubCourse {
        bins = List.copyOf(bins);
        limits = List.copyOf(limits);
    }

    /**
     * Hours in one stretch of temperature, {@value #BIN_KELVIN} K wide.
     *
     * @param fromCelsius its lower end, included
     */
    public record Bin(double fromCelsius, double estimatedHours, double reconstructedHours) {}

    /**
     * How long and how far beyond a limit, by the most likely values and by the band's edges.
     *
     * @param limit its name
     * @param isBelow whether below it is meant, else above it
     * @param reconstructedHours what of the likely hours is of times without readings
     * @param reconstructedKelvinHours the same of the area
     */
    public record Beyond(
            String limit,
            double celsius,
            boolean isBelow,
            Span hours,
            Span kelvinHours,
            double reconstructedHours,
            double reconstructedKelvinHours) {}

    /** Sums up, stretch by stretch. For one thread. */
    public static final class Sum {

        private final TreeMap<Long, double[]> bins = new TreeMap<>();
        private final Map<String, Limit> limits = new LinkedHashMap<>();
        private final double[] hours = new double[2];
        private double unknownHours;
        private Optional<Span> least = Optional.empty();
        private Optional<Span> greatest = Optional.empty();

        private static final class Limit {
            private final double celsius;
            private final boolean isBelow;
            private final double[] hours = new double[3];
            private final double[] areas = new double[3];
            private double reconstructedHours;
            private double reconstructedArea;

            Limit(double celsius, boolean isBelow) {
                this.celsius = celsius;
                this.isBelow = isBelow;
            }

            void add(Span span, double duration, boolean isReconstructed) {
                double[] ends = {span.low(), span.likely(), span.high()};
                for (int i = 0; i < ends.length; i++) {
                    double beyond = isBelow ? celsius - ends[i] : ends[i] - celsius;
                    if (beyond > 0) {
                        hours[i] += duration;
                        areas[i] += beyond * duration;
                        if (i == 1 && isReconstructed) {
                            reconstructedHours += duration;
                            reconstructedArea += beyond * duration;
                        }
                    }
                }
            }

            private Span span(double[] of) {
                return isBelow ? new Span(of[2], of[1], of[0]) : new Span(of[0], of[1], of[2]);
            }
        }

        /** Counts beyond a limit from here on. */
        public Sum limit(String name, double celsius, boolean isBelow) {
            limits.put(name, new Limit(celsius, isBelow));
            return this;
        }

        /** Eggs that had this for so long. */
        public void add(Span celsius, double duration, boolean isReconstructed) {
            int part = isReconstructed ? 1 : 0;
            hours[part] += duration;
            long bin = (long) Math.floor(celsius.likely() / BIN_KELVIN);
            bins.computeIfAbsent(bin, any -> new double[2])[part] += duration;
            limits.values().forEach(limit -> limit.add(celsius, duration, isReconstructed));
            if (least.map(span -> celsius.likely() < span.likely()).orElse(true)) {
                least = Optional.of(celsius);
            }
            if (greatest.map(span -> celsius.likely() > span.likely()).orElse(true)) {
                greatest = Optional.of(celsius);
            }
        }

        /** Nothing is known of so long. */
        public void addUnknown(double duration) {
            unknownHours += duration;
        }

        public TubCourse done() {
            List<Bin> counted = new ArrayList<>();
            bins.forEach((bin, its) -> counted.add(new Bin(bin * BIN_KELVIN, its[0], its[1])));
            List<Beyond> beyond = new ArrayList<>();
            limits.forEach(
                    (name, its) ->
                            beyond.add(
                                    new Beyond(
                                            name,
                                            its.celsius,
                                            its.isBelow,
                                            its.span(its.hours),
                                            its.span(its.areas),
                                            its.reconstructedHours,
                                            its.reconstructedArea)));
            return new TubCourse(
                    counted, hours[0], hours[1], unknownHours, least, greatest, beyond);
        }
    }
}
