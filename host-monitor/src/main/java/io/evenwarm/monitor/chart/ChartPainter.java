package io.evenwarm.monitor.chart;

import io.evenwarm.monitor.chart.ChartPicture.PlotArea;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import java.awt.image.DataBufferInt;
import java.util.ArrayList;
import java.util.List;
import org.jfree.chart.ChartRenderingInfo;
import org.jfree.chart.JFreeChart;

/**
 * Draws one cabinet's curves into memory. Any thread but the window's may use it; each call is by
 * itself and costs some tens of milliseconds at most, however many points there are.
 */
public final class ChartPainter {

    public ChartPainter() {}

    public ChartPicture paint(ChartSpec spec) {
        ChartSpec.Frame frame = spec.frame();
        int pixelWidth = (int) Math.round(frame.width() * frame.scale());
        int pixelHeight = (int) Math.round(frame.height() * frame.scale());
        BufferedImage image =
                new BufferedImage(pixelWidth, pixelHeight, BufferedImage.TYPE_INT_ARGB_PRE);
        Graphics2D graphics = image.createGraphics();
        List<Panel> panels = Panel.of(spec, curveWidth(frame));
        PlotArea area;
        try {
            setHints(graphics);
            graphics.scale(frame.scale(), frame.scale());
            area = draw(spec, panels, graphics);
        } finally {
            graphics.dispose();
        }
        // Reaching into the raster takes the image off the fast path for screens, of which there
        // is none here, and saves a copy.
        int[] pixels = ((DataBufferInt) image.getRaster().getDataBuffer()).getData();
        return new ChartPicture(
                pixels, pixelWidth, pixelHeight, spec.span(), area, roomHidden(spec, panels));
    }

    private static PlotArea draw(ChartSpec spec, List<Panel> panels, Graphics2D graphics) {
        ChartSpec.Frame frame = spec.frame();
        Look look = new Look(frame.fontFamily());
        JFreeChart chart = Plots.chart(spec, panels, look);
        ChartRenderingInfo info = new ChartRenderingInfo();
        // The entities serve tool tips, which the window makes itself.
        info.setEntityCollection(null);
        chart.draw(
                graphics, new Rectangle2D.Double(0, 0, frame.width(), frame.height()), null, info);
        List<Rectangle2D> areas = new ArrayList<>();
        for (int i = 0; i < panels.size(); i++) {
            areas.add(info.getPlotInfo().getSubplotInfo(i).getDataArea());
        }
        new Lettering(spec, look, graphics).letter(panels, areas);
        Rectangle2D first = areas.get(0);
        return new PlotArea(
                first.getMinX(),
                first.getMinY(),
                first.getMaxX(),
                areas.get(areas.size() - 1).getMaxY());
    }

    private static int curveWidth(ChartSpec.Frame frame) {
        return (int) ((frame.width() - Look.LEFT - Look.RIGHT) * frame.scale());
    }

    private static boolean roomHidden(ChartSpec spec, List<Panel> panels) {
        boolean has =
                spec.probes().stream()
                        .anyMatch(probe -> Mark.of(probe.place().kind()) == Mark.AMBIENT);
        return spec.showRoom()
                && has
                && panels.stream().noneMatch(panel -> panel.kind() == Panel.Kind.ROOM);
    }

    private static void setHints(Graphics2D graphics) {
        graphics.setRenderingHint(
                RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
        graphics.setRenderingHint(
                RenderingHints.KEY_TEXT_ANTIALIASING, RenderingHints.VALUE_TEXT_ANTIALIAS_ON);
        graphics.setRenderingHint(
                RenderingHints.KEY_FRACTIONALMETRICS, RenderingHints.VALUE_FRACTIONALMETRICS_ON);
        graphics.setRenderingHint(
                RenderingHints.KEY_STROKE_CONTROL, RenderingHints.VALUE_STROKE_PURE);
    }
}
