package io.evenwarm.monitor.chart;

import io.evenwarm.quantity.TemperatureUnit;
import java.awt.Graphics2D;
import java.awt.Paint;
import java.awt.TexturePaint;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import java.util.ArrayList;
import java.util.List;
import org.jfree.chart.annotations.XYPolygonAnnotation;

/**
 * The band of an estimate in the unit shown: its two edges, cut to what the picture shows. An
 * estimate has a point each minute or fewer, so nothing is thinned.
 *
 * @param low times in milliseconds since the epoch, and values; NaN values are gaps
 * @param likely at the same times
 * @param high at the same times
 */
record Band(Points low, Points likely, Points high) {

    /** Hatched with upright lines: slanting ones say that nothing was heard. */
    private static final int HATCH_PIXELS = 4;

    private static final int GROUND_ALPHA = 36;
    private static final int LINE_ALPHA = 110;

    static Band of(EstimateTrace estimate, ChartSpec spec) {
        long from = spec.span().from().toEpochMilli();
        long to = spec.span().to().toEpochMilli();
        int count = estimate.likely().size();
        int begin = 0;
        // One point more at either side, so that the band reaches both edges.
        while (begin + 1 < count && estimate.likely().epochMillis(begin + 1) < from) {
            begin++;
        }
        int end = begin;
        while (end < count && (end == 0 || estimate.likely().epochMillis(end - 1) < to)) {
            end++;
        }
        int size = end - begin;
        double[] times = new double[size];
        double[] low = new double[size];
        double[] likely = new double[size];
        double[] high = new double[size];
        TemperatureUnit unit = spec.frame().unit();
        for (int i = 0; i < size; i++) {
            times[i] = estimate.likely().epochMillis(begin + i);
            low[i] = unit.fromCelsius(estimate.low().value(begin + i));
            likely[i] = unit.fromCelsius(estimate.likely().value(begin + i));
            high[i] = unit.fromCelsius(estimate.high().value(begin + i));
        }
        return new Band(
                new Points(times, low, size),
                new Points(times, likely, size),
                new Points(times, high, size));
    }

    /** What is filled: one surface for each run without a gap. */
    List<XYPolygonAnnotation> surfaces() {
        List<XYPolygonAnnotation> surfaces = new ArrayList<>();
        int begin = 0;
        for (int i = 0; i <= low.size(); i++) {
            boolean isGap = i == low.size() || Double.isNaN(low.value(i) + high.value(i));
            if (!isGap) {
                continue;
            }
            if (i - begin > 1) {
                surfaces.add(surface(begin, i));
            }
            begin = i + 1;
        }
        return surfaces;
    }

    private XYPolygonAnnotation surface(int begin, int end) {
        int size = end - begin;
        double[] corners = new double[4 * size];
        for (int i = 0; i < size; i++) {
            corners[2 * i] = low.time(begin + i);
            corners[2 * i + 1] = low.value(begin + i);
            int back = 4 * size - 2 * i - 2;
            corners[back] = high.time(begin + i);
            corners[back + 1] = high.value(begin + i);
        }
        return new XYPolygonAnnotation(corners, null, null, hatch());
    }

    private static Paint hatch() {
        BufferedImage tile =
                new BufferedImage(HATCH_PIXELS, HATCH_PIXELS, BufferedImage.TYPE_INT_ARGB);
        Graphics2D pen = tile.createGraphics();
        pen.setColor(Mark.EGGS.ink().color(GROUND_ALPHA));
        pen.fillRect(0, 0, HATCH_PIXELS, HATCH_PIXELS);
        pen.setColor(Mark.EGGS.ink().color(LINE_ALPHA));
        pen.drawLine(0, 0, 0, HATCH_PIXELS - 1);
        pen.dispose();
        return new TexturePaint(tile, new Rectangle2D.Double(0, 0, HATCH_PIXELS, HATCH_PIXELS));
    }
}
