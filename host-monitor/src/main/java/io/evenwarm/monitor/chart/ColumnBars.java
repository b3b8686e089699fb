package io.evenwarm.monitor.chart;

import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.CrosshairState;
import org.jfree.chart.plot.PlotRenderingInfo;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.AbstractXYItemRenderer;
import org.jfree.chart.renderer.xy.XYItemRendererState;
import org.jfree.chart.ui.RectangleEdge;
import org.jfree.data.xy.XYDataset;

/** Draws each value as a bar from zero, from its own time to the next one's. */
final class ColumnBars extends AbstractXYItemRenderer {

    private static final long serialVersionUID = 1L;

    private final Color color;

    ColumnBars(Color color) {
        this.color = color;
    }

    @Override
    public void drawItem(
            Graphics2D graphics,
            XYItemRendererState state,
            Rectangle2D dataArea,
            PlotRenderingInfo info,
            XYPlot plot,
            ValueAxis domainAxis,
            ValueAxis rangeAxis,
            XYDataset dataset,
            int series,
            int item,
            CrosshairState crosshair,
            int pass) {
        double value = dataset.getYValue(series, item);
        if (!(value > 0)) {
            return;
        }
        double left = place(domainAxis, dataset.getXValue(series, item), dataArea);
        boolean last = item + 1 == dataset.getItemCount(series);
        double right =
                last
                        ? Math.rint(dataArea.getMaxX())
                        : place(domainAxis, dataset.getXValue(series, item + 1), dataArea);
        double top = rangeAxis.valueToJava2D(value, dataArea, RectangleEdge.LEFT);
        graphics.setPaint(color);
        // Whole pixels leave no seams between neighbours.
        graphics.fill(new Rectangle2D.Double(left, top, right - left, dataArea.getMaxY() - top));
    }

    private static double place(ValueAxis axis, double value, Rectangle2D dataArea) {
        return Math.rint(axis.valueToJava2D(value, dataArea, RectangleEdge.BOTTOM));
    }
}
