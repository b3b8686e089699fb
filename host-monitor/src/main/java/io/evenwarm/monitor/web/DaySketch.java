package io.evenwarm.monitor.web;

import io.evenwarm.message.Limits;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * The last day of one cabinet's temperatures as a small SVG picture. A column shows the least and
 * the greatest value of its minutes, so that no excursion is lost; where nothing was read nothing
 * is drawn.
 */
final class DaySketch {

    static final int WIDTH = 336;
    static final int HEIGHT = 132;

    private static final int LEFT = 2;
    private static final int RIGHT = 44;
    private static final int TOP = 8;
    private static final int BOTTOM = 18;
    private static final double LABEL_HEIGHT = 10;
    private static final int COLUMNS = WIDTH - LEFT - RIGHT;
    private static final double LEAST_RANGE_KELVIN = 2;
    private static final int HOURS_BETWEEN_TICKS = 6;

    /**
     * Of the palette of Okabe and Ito, in the order of the probes; each also has its own dashes.
     */
    private static final String[] COLOURS = {
        "#0072b2", "#d55e00", "#009e73", "#cc79a7", "#56b4e9", "#e69f00"
    };

    private static final String[] DASHES = {"", "5 2", "2 2", "8 2 2 2", "1 3", "6 4"};
    private static final DateTimeFormatter HOUR = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);

    private final CabinetCurves curves;
    private final TemperatureUnit unit;
    private final ZoneId zone;
    private final double[][] least;
    private final double[][] most;
    private final List<ProbeCurve> probes;
    private final List<Double> labelled = new ArrayList<>();
    private double low = Double.POSITIVE_INFINITY;
    private double high = Double.NEGATIVE_INFINITY;

    private DaySketch(CabinetCurves curves, TemperatureUnit unit, ZoneId zone) {
        this.curves = curves;
        this.unit = unit;
        this.zone = zone;
        probes =
                curves.probes().stream()
                        .filter(probe -> probe.unit() == ProbeCurve.Unit.CELSIUS)
                        .filter(probe -> isDrawn(probe.place()))
                        .toList();
        least = new double[probes.size()][COLUMNS];
        most = new double[probes.size()][COLUMNS];
        for (int i = 0; i < probes.size(); i++) {
            fill(probes.get(i).curve(), least[i], most[i]);
        }
        scale();
    }

    /** The room's own curve would leave no height for what happens inside. */
    static boolean isDrawn(ProbePlace place) {
        return place.kind() != ProbePlace.Kind.AMBIENT;
    }

    /** The picture, for a span that is a day long. */
    static String svg(CabinetCurves curves, TemperatureUnit unit, ZoneId zone) {
        return new DaySketch(curves, unit, zone).draw();
    }

    private void fill(Curve curve, double[] lows, double[] highs) {
        Arrays.fill(lows, Double.POSITIVE_INFINITY);
        Arrays.fill(highs, Double.NEGATIVE_INFINITY);
        TimeSpan span = curves.span();
        double millisAColumn = span.length().toMillis() / (double) COLUMNS;
        long from = span.from().toEpochMilli();
        for (int i = 0; i < curve.size(); i++) {
            double value = curve.value(i);
            int column = (int) ((curve.epochMillis(i) - from) / millisAColumn);
            if (Double.isFinite(value) && column >= 0 && column < COLUMNS) {
                lows[column] = Math.min(lows[column], value);
                highs[column] = Math.max(highs[column], value);
            }
        }
    }

    private void scale() {
        for (int i = 0; i < least.length; i++) {
            for (int column = 0; column < COLUMNS; column++) {
                low = Math.min(low, least[i][column]);
                high = Math.max(high, most[i][column]);
            }
        }
        if (!(low <= high)) {
            low = 20;
            high = 40;
        }
        double middle = (low + high) / 2;
        double half = Math.max(LEAST_RANGE_KELVIN, (high - low) * 1.1) / 2;
        low = middle - half;
        high = middle + half;
    }

    private double y(double celsius) {
        double share = (celsius - low) / (high - low);
        return HEIGHT - BOTTOM - share * (HEIGHT - BOTTOM - TOP);
    }

    private String draw() {
        StringBuilder svg = new StringBuilder(16_384);
        svg.append(
                String.format(
                        Locale.ROOT,
                        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%d\" height=\"%d\""
                                + " viewBox=\"0 0 %d %d\""
                                + " font-family=\"sans-serif\" font-size=\"10\">"
                                + "<rect width=\"%d\" height=\"%d\" fill=\"#fff\"/>",
                        WIDTH,
                        HEIGHT,
                        WIDTH,
                        HEIGHT,
                        WIDTH,
                        HEIGHT));
        hours(svg);
        curves.limits().ifPresent(limits -> limits(svg, limits));
        for (int i = 0; i < probes.size(); i++) {
            probe(svg, i);
        }
        label(svg, high, TOP + 4.0);
        label(svg, low, HEIGHT - BOTTOM);
        if (probes.stream().allMatch(probe -> probe.curve().size() == 0)) {
            svg.append("<text x=\"20\" y=\"60\" fill=\"#55636b\">no readings on this day</text>");
        }
        return svg.append("</svg>").toString();
    }

    private void hours(StringBuilder svg) {
        Instant from = curves.span().from();
        Instant to = curves.span().to();
        ZonedDateTime tick = from.atZone(zone).truncatedTo(ChronoUnit.DAYS);
        while (tick.toInstant().isBefore(to)) {
            if (tick.toInstant().isAfter(from)) {
                double share =
                        (double) from.until(tick.toInstant(), ChronoUnit.MILLIS)
                                / from.until(to, ChronoUnit.MILLIS);
                svg.append(
                        String.format(
                                Locale.ROOT,
                                "<path d=\"M%.1f %dV%d\" stroke=\"#e6e7e3\"/><text x=\"%.1f\""
                                        + " y=\"%d\" text-anchor=\"middle\""
                                        + " fill=\"#55636b\">%s</text>",
                                LEFT + share * COLUMNS,
                                TOP,
                                HEIGHT - BOTTOM,
                                Math.max(16, LEFT + share * COLUMNS),
                                HEIGHT - 5,
                                HOUR.format(tick)));
            }
            tick = tick.plusHours(HOURS_BETWEEN_TICKS);
        }
    }

    private void limits(StringBuilder svg, Limits limits) {
        limit(svg, limits.tooCold());
        limit(svg, limits.tooWarm());
    }

    private void limit(StringBuilder svg, Temperature limit) {
        double celsius = limit.celsius();
        if (celsius > low && celsius < high) {
            svg.append(
                    String.format(
                            Locale.ROOT,
                            "<path d=\"M%d %.1fh%d\" stroke=\"#7b878d\" stroke-dasharray=\"1 3\"/>",
                            LEFT,
                            y(celsius),
                            COLUMNS));
            label(svg, celsius, y(celsius) + 3);
        }
    }

    /** Not where another one stands already: limits come first, then the picture's edges. */
    private void label(StringBuilder svg, double celsius, double y) {
        if (labelled.stream().anyMatch(other -> Math.abs(other - y) < LABEL_HEIGHT)) {
            return;
        }
        labelled.add(y);
        svg.append(
                String.format(
                        Locale.ROOT,
                        "<text x=\"%d\" y=\"%.1f\" text-anchor=\"end\" fill=\"#1b2a32\">%s</text>",
                        WIDTH - 1,
                        y,
                        Html.text(unit.format(new Temperature(celsius), 1))));
    }

    /** Upper edge forth and lower edge back; a gap begins another piece. */
    private void probe(StringBuilder svg, int index) {
        List<String> upper = new ArrayList<>();
        List<String> lower = new ArrayList<>();
        StringBuilder path = new StringBuilder();
        for (int column = 0; column <= COLUMNS; column++) {
            boolean isThere = column < COLUMNS && least[index][column] <= most[index][column];
            if (isThere) {
                upper.add(point(column, most[index][column]));
                lower.add(0, point(column, least[index][column]));
            } else if (!upper.isEmpty()) {
                path.append('M').append(String.join("L", upper));
                path.append('L').append(String.join("L", lower)).append('Z');
                upper.clear();
                lower.clear();
            }
        }
        if (path.isEmpty()) {
            return;
        }
        String colour = COLOURS[index % COLOURS.length];
        svg.append(
                String.format(
                        Locale.ROOT,
                        "<path d=\"%s\" fill=\"%s\" fill-opacity=\".35\" stroke=\"%s\""
                                + " stroke-width=\"1\"%s><title>%s</title></path>",
                        path,
                        colour,
                        colour,
                        DASHES[index % DASHES.length].isEmpty()
                                ? ""
                                : " stroke-dasharray=\"" + DASHES[index % DASHES.length] + "\"",
                        Html.text(probes.get(index).probe().value())));
    }

    private String point(int column, double celsius) {
        return String.format(Locale.ROOT, "%d %.1f", LEFT + column, y(celsius));
    }

    /** The colour of a probe's curve, to stand beside its name. */
    static String colour(int index) {
        return COLOURS[index % COLOURS.length];
    }
}
