package io.evenwarm.monitor.chart;

import io.evenwarm.message.Limits;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import java.awt.BasicStroke;
import java.awt.Color;
import java.text.DecimalFormat;
import java.text.DecimalFormatSymbols;
import java.util.List;
import java.util.Locale;
import org.jfree.chart.JFreeChart;
import org.jfree.chart.axis.AxisSpace;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.axis.NumberTickUnit;
import org.jfree.chart.plot.CombinedDomainXYPlot;
import org.jfree.chart.plot.DatasetRenderingOrder;
import org.jfree.chart.plot.IntervalMarker;
import org.jfree.chart.plot.ValueMarker;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.XYItemRenderer;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jfree.chart.ui.Layer;
import org.jfree.chart.ui.RectangleInsets;
import org.jfree.data.xy.DefaultXYDataset;

/**
 * Turns panels into JFreeChart plots that share one time axis, with nothing left at its default.
 */
final class Plots {

    private static final Color CLEAR = new Color(0, 0, 0, 0);
    private static final int PIXELS_PER_TICK = 28;
    private static final int TICKS_MAX = 10;

    /** Pale beside its own mean, and still strong enough for a spike of one sample. */
    private static final int BAND_ALPHA = 120;

    private static final int OUTSIDE_LIMITS_ALPHA = 150;

    private Plots() {}

    static JFreeChart chart(ChartSpec spec, List<Panel> panels, Look look) {
        long fromMillis = spec.span().from().toEpochMilli();
        long toMillis = Math.max(fromMillis + 1, spec.span().to().toEpochMilli());
        TimeAxis time = new TimeAxis(spec.frame().zone(), fromMillis, toMillis);
        dress(time, look);
        time.setTickLabelInsets(new RectangleInsets(6, 0, 0, 0));

        CombinedDomainXYPlot all = new CombinedDomainXYPlot(time);
        all.setGap(Look.GAP);
        all.setInsets(new RectangleInsets(0, 0, 0, Look.RIGHT));
        int cabinetHeight = Math.max(1, Panel.cabinetHeight(spec, panels.size() - 1));
        for (Panel panel : panels) {
            boolean cabinet = panel.kind() == Panel.Kind.CABINET;
            int height = cabinet ? cabinetHeight : Look.STRIP_HEIGHT;
            XYPlot plot =
                    panel.kind() == Panel.Kind.HEATER
                            ? heater(panel, look)
                            : curves(panel, look, height);
            if (cabinet) {
                spec.limits().ifPresent(limits -> addLimits(plot, limits, spec));
            }
            addMidnights(plot, spec, time);
            all.add(plot, height);
        }
        AxisSpace below = new AxisSpace();
        below.setBottom(Look.BOTTOM);
        below.setTop(Look.TOP);
        all.setFixedDomainAxisSpace(below);

        JFreeChart chart = new JFreeChart(null, look.small(), all, false);
        chart.setBackgroundPaint(Ink.CARD.color());
        chart.setPadding(RectangleInsets.ZERO_INSETS);
        // The caller has set the hints; these would override them.
        chart.setAntiAlias(true);
        chart.setTextAntiAlias(true);
        return chart;
    }

    private static XYPlot curves(Panel panel, Look look, int height) {
        DefaultXYDataset steps = new DefaultXYDataset();
        DefaultXYDataset data = new DefaultXYDataset();
        XYLineAndShapeRenderer stepRenderer = new XYLineAndShapeRenderer(true, false);
        CurveLines renderer = new CurveLines();
        // A path of its own keeps the dashes' rhythm from segment to segment.
        stepRenderer.setDrawSeriesLineAsPath(true);
        // Bands first, then all lines: a band must not bury another probe's line.
        for (Panel.Line line : panel.lines()) {
            if (line.mean().isPresent()) {
                Color pale = line.mark().ink().color(BAND_ALPHA);
                addSeries(data, renderer, line.points(), pale, Look.BAND);
            }
        }
        for (Panel.Line line : panel.lines()) {
            boolean isBroken = line.mark() == Mark.SET_POINT || line.mark() == Mark.EGGS;
            addSeries(
                    isBroken ? steps : data,
                    isBroken ? stepRenderer : renderer,
                    line.mean().orElse(line.points()),
                    line.mark().ink().color(),
                    stroke(line.mark()));
        }
        Color edge = Mark.EGGS.ink().color();
        for (Band band : panel.bands()) {
            addSeries(steps, stepRenderer, band.low(), edge, Look.ESTIMATE_EDGE);
            addSeries(steps, stepRenderer, band.high(), edge, Look.ESTIMATE_EDGE);
            band.surfaces().forEach(surface -> renderer.addAnnotation(surface, Layer.BACKGROUND));
        }
        XYPlot plot = plot(panel, look, Math.min(TICKS_MAX, height / PIXELS_PER_TICK));
        plot.setDataset(0, data);
        plot.setRenderer(0, renderer);
        // On top: noisy curves would bury it.
        plot.setDataset(1, steps);
        plot.setRenderer(1, stepRenderer);
        plot.setDatasetRenderingOrder(DatasetRenderingOrder.FORWARD);
        return plot;
    }

    private static void addSeries(
            DefaultXYDataset data,
            XYItemRenderer renderer,
            Points points,
            Color color,
            BasicStroke stroke) {
        int series = data.getSeriesCount();
        data.addSeries(Integer.valueOf(series), points.table());
        renderer.setSeriesPaint(series, color);
        renderer.setSeriesStroke(series, stroke);
    }

    private static XYPlot heater(Panel panel, Look look) {
        XYPlot plot = plot(panel, look, 1);
        DefaultXYDataset bars = new DefaultXYDataset();
        bars.addSeries("on", panel.lines().get(0).points().table());
        DefaultXYDataset mean = new DefaultXYDataset();
        mean.addSeries("mean", panel.lines().get(1).points().table());
        XYLineAndShapeRenderer line = new XYLineAndShapeRenderer(true, false);
        line.setSeriesPaint(0, Ink.TEXT.color());
        line.setSeriesStroke(0, Look.CURVE);
        plot.setDataset(0, bars);
        plot.setRenderer(0, new ColumnBars(Ink.ORANGE.color(170)));
        plot.setDataset(1, mean);
        plot.setRenderer(1, line);
        plot.setDatasetRenderingOrder(DatasetRenderingOrder.FORWARD);
        return plot;
    }

    private static BasicStroke stroke(Mark mark) {
        return switch (mark) {
            case SET_POINT -> Look.SET_POINT;
            case TUB -> Look.TUB_CURVE;
            case EGGS -> Look.ESTIMATE;
            default -> Look.CURVE;
        };
    }

    private static XYPlot plot(Panel panel, Look look, int ticks) {
        NumberAxis values = new NumberAxis();
        dress(values, look);
        values.setFixedDimension(Look.LEFT);
        values.setTickLabelInsets(new RectangleInsets(0, 0, 0, 8));
        values.setAutoRange(false);
        values.setRange(panel.range().low(), panel.range().high());
        double step =
                panel.kind() == Panel.Kind.HEATER ? 50 : panel.range().tickStep(Math.max(1, ticks));
        int decimals = Math.max(0, (int) Math.ceil(-Math.log10(step) - 1e-9));
        String pattern = decimals == 0 ? "0" : "0." + "0".repeat(decimals);
        values.setTickUnit(
                new NumberTickUnit(
                        step,
                        new DecimalFormat(pattern, DecimalFormatSymbols.getInstance(Locale.ROOT))));
        XYPlot plot = new XYPlot(null, null, values, null);
        plot.setInsets(RectangleInsets.ZERO_INSETS);
        plot.setAxisOffset(RectangleInsets.ZERO_INSETS);
        plot.setBackgroundPaint(Ink.CARD.color());
        plot.setOutlineVisible(false);
        plot.setDomainGridlinePaint(Ink.GRID.color());
        plot.setDomainGridlineStroke(Look.HAIR);
        plot.setRangeGridlinePaint(Ink.GRID.color());
        plot.setRangeGridlineStroke(Look.HAIR);
        plot.setRangeZeroBaselineVisible(false);
        return plot;
    }

    private static void dress(NumberAxis axis, Look look) {
        axis.setAxisLineVisible(false);
        axis.setTickMarksVisible(false);
        axis.setTickLabelFont(look.small());
        axis.setTickLabelPaint(Ink.QUIET_TEXT.color());
        axis.setLabel(null);
    }

    /** Outside the limits the ground is tinted; the lines themselves are lettered later. */
    private static void addLimits(XYPlot plot, Limits limits, ChartSpec spec) {
        TemperatureUnit unit = spec.frame().unit();
        double cold = shown(unit, limits.tooCold());
        double warm = shown(unit, limits.tooWarm());
        plot.addRangeMarker(outside(-1e6, cold), Layer.BACKGROUND);
        plot.addRangeMarker(outside(warm, 1e6), Layer.BACKGROUND);
        plot.addRangeMarker(line(cold, Look.LIMIT, Ink.LIMIT_LINE), Layer.BACKGROUND);
        plot.addRangeMarker(line(warm, Look.LIMIT, Ink.LIMIT_LINE), Layer.BACKGROUND);
        plot.addRangeMarker(
                line(shown(unit, limits.cutOff()), Look.CUT_OFF, Ink.TEXT), Layer.BACKGROUND);
    }

    private static void addMidnights(XYPlot plot, ChartSpec spec, TimeAxis time) {
        TimeTicks.between(
                        (long) time.getLowerBound(),
                        (long) time.getUpperBound(),
                        spec.frame().zone(),
                        8)
                .stream()
                .filter(TimeTicks.Tick::isDate)
                .forEach(
                        tick ->
                                plot.addDomainMarker(
                                        line((double) tick.epochMillis(), Look.HAIR, Ink.RULE),
                                        Layer.BACKGROUND));
    }

    private static IntervalMarker outside(double from, double to) {
        IntervalMarker marker = new IntervalMarker(from, to, Ink.PAPER.color(OUTSIDE_LIMITS_ALPHA));
        marker.setOutlinePaint(CLEAR);
        marker.setAlpha(1);
        return marker;
    }

    private static ValueMarker line(double value, BasicStroke stroke, Ink ink) {
        ValueMarker marker = new ValueMarker(value, ink.color(), stroke);
        marker.setAlpha(1);
        return marker;
    }

    private static double shown(TemperatureUnit unit, Temperature temperature) {
        return unit.fromCelsius(temperature.celsius());
    }
}
