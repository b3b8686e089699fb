package io.evenwarm.monitor.chart;

import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.axis.NumberTick;
import org.jfree.chart.ui.RectangleEdge;
import org.jfree.chart.ui.TextAnchor;

/** An axis of milliseconds since the epoch whose ticks are round local times. */
final class TimeAxis extends NumberAxis {

    private static final long serialVersionUID = 1L;

    private static final int PIXELS_PER_TICK = 84;

    private final ZoneId zone;

    TimeAxis(ZoneId zone, long fromMillis, long toMillis) {
        this.zone = zone;
        setAutoRange(false);
        setRange((double) fromMillis, (double) toMillis);
    }

    @Override
    @SuppressWarnings("rawtypes") // the overridden method is declared so
    protected List refreshTicksHorizontal(
            Graphics2D graphics, Rectangle2D dataArea, RectangleEdge edge) {
        List<NumberTick> ticks = new ArrayList<>();
        int count = (int) (dataArea.getWidth() / PIXELS_PER_TICK);
        for (TimeTicks.Tick tick :
                TimeTicks.between(
                        (long) getRange().getLowerBound(),
                        (long) getRange().getUpperBound(),
                        zone,
                        count)) {
            ticks.add(
                    new NumberTick(
                            (double) tick.epochMillis(),
                            tick.label(),
                            TextAnchor.TOP_CENTER,
                            TextAnchor.CENTER,
                            0));
        }
        return ticks;
    }
}
