package io.evenwarm.monitor.chart;

import io.evenwarm.monitor.history.ProbeCurve.Unit;
import io.evenwarm.quantity.TemperatureUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * One strip of a chart: thinned curves over one value axis, still in stored units.
 *
 * @param heading what it shows, with its unit
 * @param lines its curves
 * @param bands of the estimates among them
 * @param range of its axis, in the unit shown
 * @param kind which strip it is
 */
record Panel(String heading, List<Line> lines, List<Band> bands, ValueRange range, Kind kind) {

    enum Kind {
        CABINET,
        ROOM,
        HUMIDITY,
        HEATER
    }

    /**
     * A thinned curve in the unit shown.
     *
     * @param label what stands at its end
     * @param mark its shape and ink
     * @param points times in milliseconds since the epoch, and values; NaN values are gaps
     * @param mean a line through a curve so dense that its points draw a band; empty for one that
     *     is a line itself
     * @param decimals how finely its last value is told
     */
    record Line(String label, Mark mark, Points points, Optional<Points> mean, int decimals) {}

    Panel {
        lines = List.copyOf(lines);
        bands = List.copyOf(bands);
    }

    private Panel(String heading, List<Line> lines, ValueRange range, Kind kind) {
        this(heading, lines, List.of(), range, kind);
    }

    /** The panels of a picture from the top, for curves {@code width} pixels wide. */
    static List<Panel> of(ChartSpec spec, int width) {
        List<Panel> panels = new ArrayList<>();
        panels.add(cabinet(spec, width));
        if (spec.showRoom()) {
            addStrip(panels, spec, width, Kind.ROOM);
        }
        addStrip(panels, spec, width, Kind.HUMIDITY);
        panels.add(heater(spec));
        return panels;
    }

    /** What is left for the cabinet's own curves beside some strips. */
    static int cabinetHeight(ChartSpec spec, int strips) {
        return spec.frame().height()
                - Look.TOP
                - Look.BOTTOM
                - strips * (Look.GAP + Look.STRIP_HEIGHT);
    }

    /** Two lines: the bars, then the mean. */
    private static Panel heater(ChartSpec spec) {
        HeaterShare share = HeaterShare.of(spec);
        return new Panel(
                "Heater on, % of the time",
                List.of(
                        new Line("on", Mark.SET_POINT, share.bars(), Optional.empty(), 0),
                        new Line("mean", Mark.SET_POINT, share.mean(), Optional.empty(), 0)),
                new ValueRange(0, 100),
                Kind.HEATER);
    }

    private static Panel cabinet(ChartSpec spec, int width) {
        TemperatureUnit unit = spec.frame().unit();
        List<Line> lines = new ArrayList<>();
        // The tubs go first, under the air curves, since they are the thicker lines.
        probes(spec, Kind.CABINET).stream()
                .filter(probe -> Mark.of(probe.place().kind()) == Mark.TUB)
                .forEach(probe -> lines.add(line(spec, width, probe)));
        probes(spec, Kind.CABINET).stream()
                .filter(probe -> Mark.of(probe.place().kind()) != Mark.TUB)
                .forEach(probe -> lines.add(line(spec, width, probe)));
        List<Band> bands = new ArrayList<>();
        for (EstimateTrace estimate : spec.estimates()) {
            Band band = Band.of(estimate, spec);
            bands.add(band);
            lines.add(new Line(estimate.label(), Mark.EGGS, band.likely(), Optional.empty(), 1));
        }
        double[] extremes = extremes(lines, bands);
        Line setPoint =
                new Line(
                        "set",
                        Mark.SET_POINT,
                        thin(spec, spec.setPoint(), width).map(unit::fromCelsius).steps(),
                        Optional.empty(),
                        1);
        ValueRange range = cabinetRange(spec, extremes, setPoint.points().lastValue());
        lines.add(0, setPoint);
        return new Panel(
                "Cabinet, " + unit.symbol() + (spec.closeUp() ? ", close-up" : ""),
                lines,
                bands,
                range,
                Kind.CABINET);
    }

    private static ValueRange cabinetRange(
            ChartSpec spec, double[] extremes, double setPointShown) {
        TemperatureUnit unit = spec.frame().unit();
        double setPointCelsius = unit.toCelsius(setPointShown);
        ValueRange celsius =
                spec.closeUp() && !Double.isNaN(setPointCelsius)
                        ? ValueRange.closeUp(setPointCelsius)
                        : ValueRange.ofCabinet(
                                unit.toCelsius(extremes[0]),
                                unit.toCelsius(extremes[1]),
                                setPointCelsius,
                                spec.limits());
        return new ValueRange(unit.fromCelsius(celsius.low()), unit.fromCelsius(celsius.high()));
    }

    private static void addStrip(List<Panel> panels, ChartSpec spec, int width, Kind kind) {
        List<Line> lines =
                probes(spec, kind).stream().map(probe -> line(spec, width, probe)).toList();
        if (lines.isEmpty() || cabinetHeight(spec, panels.size() + 1) < Look.CABINET_HEIGHT_MIN) {
            return;
        }
        double[] extremes = extremes(lines, List.of());
        boolean room = kind == Kind.ROOM;
        panels.add(
                new Panel(
                        room ? "Room, " + spec.frame().unit().symbol() : "Humidity, % RH",
                        lines,
                        ValueRange.padded(extremes[0], extremes[1], room ? 4 : 10),
                        kind));
    }

    private static List<ProbeTrace> probes(ChartSpec spec, Kind kind) {
        return spec.probes().stream().filter(probe -> kindOf(probe) == kind).toList();
    }

    private static Kind kindOf(ProbeTrace probe) {
        if (probe.unit() == Unit.PERCENT_RELATIVE_HUMIDITY) {
            return Kind.HUMIDITY;
        }
        return Mark.of(probe.place().kind()) == Mark.AMBIENT ? Kind.ROOM : Kind.CABINET;
    }

    private static Line line(ChartSpec spec, int width, ProbeTrace probe) {
        Columns columns =
                Columns.of(
                        probe.trace(),
                        spec.span().from().toEpochMilli(),
                        spec.span().to().toEpochMilli(),
                        width);
        boolean celsius = probe.unit() == Unit.CELSIUS;
        return new Line(
                probe.label(),
                Mark.of(probe.place().kind()),
                points(columns.kept(), celsius, spec),
                columns.means().map(means -> points(means, celsius, spec)),
                celsius ? 1 : 0);
    }

    private static Points points(Points stored, boolean celsius, ChartSpec spec) {
        return celsius ? stored.map(spec.frame().unit()::fromCelsius) : stored;
    }

    private static Points thin(ChartSpec spec, Trace trace, int width) {
        return Columns.thin(
                trace, spec.span().from().toEpochMilli(), spec.span().to().toEpochMilli(), width);
    }

    private static double[] extremes(List<Line> lines, List<Band> bands) {
        double[] extremes = {Double.NaN, Double.NaN};
        lines.forEach(line -> widen(extremes, line.points()));
        for (Band band : bands) {
            widen(extremes, band.low());
            widen(extremes, band.high());
        }
        return extremes;
    }

    private static void widen(double[] extremes, Points points) {
        for (int i = 0; i < points.size(); i++) {
            double value = points.value(i);
            if (!Double.isNaN(value)) {
                extremes[0] = Double.isNaN(extremes[0]) ? value : Math.min(extremes[0], value);
                extremes[1] = Double.isNaN(extremes[1]) ? value : Math.max(extremes[1], value);
            }
        }
    }
}
