package io.evenwarm.monitor.chart;

import io.evenwarm.monitor.history.TimeSpan;
import java.time.Instant;

/** A finished picture, and where on it which moment lies. Not changed once made. */
public final class ChartPicture {

    private final int[] pixels;
    private final int pixelWidth;
    private final int pixelHeight;
    private final TimeSpan span;
    private final PlotArea area;
    private final boolean roomHidden;

    /**
     * The rectangle of all panels together, in logical pixels.
     *
     * @param left where the span begins
     * @param top top of the highest panel
     * @param right where the span ends
     * @param bottom bottom of the lowest panel
     */
    public record PlotArea(double left, double top, double right, double bottom) {}

    ChartPicture(
            int[] pixels,
            int pixelWidth,
            int pixelHeight,
            TimeSpan span,
            PlotArea area,
            boolean roomHidden) {
        this.pixels = pixels;
        this.pixelWidth = pixelWidth;
        this.pixelHeight = pixelHeight;
        this.span = span;
        this.area = area;
        this.roomHidden = roomHidden;
    }

    /** Premultiplied ARGB, row by row from the top. Not a copy: do not write to it. */
    public int[] pixels() {
        return pixels;
    }

    /** In device pixels. */
    public int pixelWidth() {
        return pixelWidth;
    }

    /** In device pixels. */
    public int pixelHeight() {
        return pixelHeight;
    }

    public TimeSpan span() {
        return span;
    }

    public PlotArea area() {
        return area;
    }

    /** Whether the room's strip was asked for but had to give way in a low picture. */
    public boolean roomHidden() {
        return roomHidden;
    }

    /** How far along the span a place lies: 0 at its begin, 1 at its end, held to that. */
    public double fractionAt(double x) {
        return Math.max(0, Math.min(1, (x - area.left()) / (area.right() - area.left())));
    }

    /** The moment at a place, held to the span. */
    public Instant momentAt(double x) {
        return span.from().plusMillis(Math.round(fractionAt(x) * span.length().toMillis()));
    }
}
