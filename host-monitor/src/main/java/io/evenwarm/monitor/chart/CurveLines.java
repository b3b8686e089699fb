package io.evenwarm.monitor.chart;

import java.awt.Graphics2D;
import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;
import org.jfree.chart.axis.ValueAxis;
import org.jfree.chart.plot.CrosshairState;
import org.jfree.chart.plot.PlotRenderingInfo;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.AbstractXYItemRenderer;
import org.jfree.chart.renderer.xy.XYItemRendererState;
import org.jfree.data.xy.XYDataset;

/**
 * Draws thinned curves in short runs of joined segments. The plot library draws either each segment
 * by itself, or a whole curve as one path, whose many crossings make it slower still; runs of some
 * dozen segments cost least. A NaN value ends a run.
 */
final class CurveLines extends AbstractXYItemRenderer {

    private static final long serialVersionUID = 1L;

    private static final int SEGMENTS_PER_RUN = 32;

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
        if (item != state.getFirstItemIndex()) {
            return; // The first call draws the whole curve.
        }
        graphics.setPaint(getItemPaint(series, item));
        graphics.setStroke(getItemStroke(series, item));
        double left = dataArea.getMinX();
        double perMilli = dataArea.getWidth() / domainAxis.getRange().getLength();
        double begin = domainAxis.getLowerBound();
        double bottom = dataArea.getMaxY();
        double perUnit = dataArea.getHeight() / rangeAxis.getRange().getLength();
        double low = rangeAxis.getLowerBound();
        Path2D run = new Path2D.Double(Path2D.WIND_NON_ZERO, SEGMENTS_PER_RUN + 1);
        int segments = -1;
        double x = 0;
        double y = 0;
        int count = dataset.getItemCount(series);
        for (int i = 0; i < count; i++) {
            double value = dataset.getYValue(series, i);
            boolean gap = Double.isNaN(value);
            if (segments > 0 && (gap || segments == SEGMENTS_PER_RUN)) {
                graphics.draw(run);
                run.reset();
                if (!gap) {
                    run.moveTo(x, y);
                }
                segments = 0;
            }
            if (gap) {
                run.reset();
                segments = -1;
                continue;
            }
            x = left + (dataset.getXValue(series, i) - begin) * perMilli;
            y = bottom - (value - low) * perUnit;
            if (segments < 0) {
                run.moveTo(x, y);
            } else {
                run.lineTo(x, y);
            }
            segments++;
        }
        if (segments > 0) {
            graphics.draw(run);
        }
    }
}
