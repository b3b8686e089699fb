package io.evenwarm.monitor.evenness;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/** What is wrong with readings that no arithmetic can put right: each is named. */
final class InputCheck {

    /** World Health Organization, TRS 961 annex 9 supplement 8: sampled each 1 to 15 min. */
    static final double SAMPLE_MINUTES_MAX = 15;

    private static final double HOLE_MINUTES_MAX = 15;
    private static final double MISSING_SHARE_MAX = 0.05;

    /** No cabinet that heats has places this far apart. */
    private static final double FOREIGN_KELVIN = 15;

    /** So near to the others after a change of unit, it was the unit. */
    private static final double SAME_KELVIN = 8;

    private static final double KELVIN_AT_ZERO_CELSIUS = 273.15;

    private InputCheck() {}

    static List<Reason> unitsMixed(Cells cells, List<SurveyPoint> points) {
        double[] medians = new double[points.size()];
        List<Reason> reasons = new ArrayList<>();
        for (int i = 0; i < medians.length; i++) {
            medians[i] = median(cells, i);
        }
        double common = Cells.median(medians, medians.length);
        for (int i = 0; i < medians.length; i++) {
            double odd = medians[i];
            if (!(Math.abs(odd - common) > FOREIGN_KELVIN)) {
                odd = firstFarFrom(cells, i, common);
            }
            if (!(Math.abs(odd - common) > FOREIGN_KELVIN)) {
                continue;
            }
            Optional<String> unit = unit(odd, common);
            if (unit.isPresent()) {
                reasons.add(
                        new Reason(
                                Reason.Kind.UNITS_MIXED,
                                String.format(
                                        java.util.Locale.ROOT,
                                        "%s has %.1f °C where the other points have %.1f °C: its"
                                                + " readings are %s. Import them anew with the"
                                                + " right unit.",
                                        points.get(i).words(),
                                        odd,
                                        common,
                                        unit.get())));
            }
        }
        return reasons;
    }

    private static double median(Cells cells, int point) {
        double[] values = new double[cells.size()];
        int found = 0;
        for (int cell = 0; cell < values.length; cell++) {
            double value = cells.value(point, cell);
            if (!Double.isNaN(value)) {
                values[found++] = value;
            }
        }
        return Cells.median(values, found);
    }

    /** A part of a file may have another unit than the rest. */
    private static double firstFarFrom(Cells cells, int point, double common) {
        for (int cell = 0; cell < cells.size(); cell++) {
            double value = cells.value(point, cell);
            if (Math.abs(value - common) > FOREIGN_KELVIN && unit(value, common).isPresent()) {
                return value;
            }
        }
        return common;
    }

    private static Optional<String> unit(double value, double common) {
        if (Math.abs((value - 32) / 1.8 - common) < SAME_KELVIN) {
            return Optional.of("in °F");
        }
        if (Math.abs(value - KELVIN_AT_ZERO_CELSIUS - common) < SAME_KELVIN) {
            return Optional.of("in K");
        }
        return Math.abs(value * 1.8 + 32 - common) < SAME_KELVIN
                ? Optional.of("in °C and the others in °F")
                : Optional.empty();
    }

    static List<Reason> gaps(Cells cells, List<SurveyPoint> points, Wording wording) {
        List<Reason> reasons = new ArrayList<>();
        for (int i = 0; i < points.size(); i++) {
            int[] hole = cells.longestHole(i);
            int missing = cells.missing(i);
            double holeMinutes = hole[1] * cells.minutes();
            if (missing == cells.size()) {
                reasons.add(
                        new Reason(
                                Reason.Kind.GAPS,
                                points.get(i).words()
                                        + " has no good reading in the settled part. Leave it out"
                                        + " with --without, or mend it."));
            } else if ((hole[1] > 1 && holeMinutes > HOLE_MINUTES_MAX)
                    || missing > MISSING_SHARE_MAX * cells.size()) {
                reasons.add(
                        new Reason(
                                Reason.Kind.GAPS,
                                points.get(i).words()
                                        + " has no good reading in "
                                        + Math.round(100.0 * missing / cells.size())
                                        + " % of the settled part, longest for "
                                        + Wording.length(
                                                Duration.ofMillis(hole[1] * cells.cellMillis()))
                                        + " from "
                                        + wording.time(
                                                Instant.ofEpochMilli(cells.beginMillis(hole[0])))
                                        + "; at most 5 % and 15 min are allowed. "
                                        + wayOut(cells, i, points.get(i))));
            }
        }
        return reasons;
    }

    private static String wayOut(Cells cells, int index, SurveyPoint point) {
        OptionalInt hole = ClockCheck.holeOfAZone(cells, index);
        return hole.isEmpty()
                ? "Leave it out with --without, or choose another span."
                : "It lacks them just at the "
                        + (hole.getAsInt() > 0 ? "begin" : "end")
                        + ", as when the clock of its logger, or its zone, is that much off. If it"
                        + " is: "
                        + ClockCheck.wayOut(List.of(point.probe()))
                        + " If not, choose another span.";
    }
}
