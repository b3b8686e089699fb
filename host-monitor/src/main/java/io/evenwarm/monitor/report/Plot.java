package io.evenwarm.monitor.report;

import io.evenwarm.monitor.report.Picture.Anchor;
import io.evenwarm.monitor.report.Picture.Style;
import java.util.List;

/** A chart's upright scale. */
final class Plot {

    private final double low;
    private final double high;
    private final double left;
    private final double right;
    private final int top;
    private final int height;

    /**
     * @param left of its frame
     */
    Plot(double[] range, double left, double right, int top, int height) {
        low = range[0];
        high = range[1];
        this.left = left;
        this.right = right;
        this.top = top;
        this.height = height;
    }

    double y(double value) {
        double clamped = Math.max(low, Math.min(high, value));
        return top + height * (1 - (clamped - low) / (high - low));
    }

    boolean holds(double value) {
        return value > low && value < high;
    }

    /** Its edges alone, so that what is drawn before stays to be seen. */
    Picture.Line frame() {
        double bottom = top + height;
        return new Picture.Line(
                List.of(left, right, right, left, left),
                List.of((double) top, (double) top, bottom, bottom, (double) top),
                Picture.INK,
                1,
                false);
    }

    void ticks(Picture.Maker maker) {
        double step = Scale.step(high - low);
        for (double tick = Math.ceil(low / step) * step; tick <= high; tick += step) {
            maker.line(left - 4, y(tick), left, y(tick), 1, false);
            maker.words(left - 8, y(tick) + 4, TimeAxis.tenths(tick), Style.PLACE, Anchor.END);
        }
    }
}
