package io.evenwarm.monitor.chart;

import io.evenwarm.message.Limits;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;

/**
 * All that a picture of one cabinet's curves depends on. Values are in Celsius and percent.
 *
 * @param frame size and script
 * @param span the stretch of time across the picture
 * @param probes every probe that is to be drawn, in configured order
 * @param estimates what was not measured and is drawn beside the probes
 * @param setPoint the set point in force
 * @param heater share of the time that the heater was on, each point for the time since the point
 *     before it
 * @param limits the limits that are drawn
 * @param closeUp whether only the nearest surroundings of the set point are shown
 * @param showRoom whether the room's temperature has its strip
 * @param silentSince when the cabinet fell silent, if it did: what follows is marked as unknown
 * @param atNow whether the span ends now, so that curve ends are current values
 */
public record ChartSpec(
        Frame frame,
        TimeSpan span,
        List<ProbeTrace> probes,
        List<EstimateTrace> estimates,
        Trace setPoint,
        Trace heater,
        Optional<Limits> limits,
        boolean closeUp,
        boolean showRoom,
        Optional<Instant> silentSince,
        boolean atNow) {

    public ChartSpec {
        probes = List.copyOf(probes);
        estimates = List.copyOf(estimates);
    }

    /** Of readings only. */
    public ChartSpec(
            Frame frame,
            TimeSpan span,
            List<ProbeTrace> probes,
            Trace setPoint,
            Trace heater,
            Optional<Limits> limits,
            boolean closeUp,
            boolean showRoom,
            Optional<Instant> silentSince,
            boolean atNow) {
        this(
                frame,
                span,
                probes,
                List.of(),
                setPoint,
                heater,
                limits,
                closeUp,
                showRoom,
                silentSince,
                atNow);
    }

    /**
     * What the picture is drawn on.
     *
     * @param width in logical pixels
     * @param height in logical pixels
     * @param scale device pixels in a logical one, 1 to 4
     * @param fontFamily of all text
     * @param unit of all temperatures shown
     * @param zone of all times shown
     */
    public record Frame(
            int width,
            int height,
            double scale,
            String fontFamily,
            TemperatureUnit unit,
            ZoneId zone) {

        /** Smaller than this there is no room for axes and labels. */
        public static final int MIN_WIDTH = 320;

        public static final int MIN_HEIGHT = 200;

        public Frame {
            if (width < MIN_WIDTH || height < MIN_HEIGHT || !(scale >= 1 && scale <= 4)) {
                throw new IllegalArgumentException(
                        "a chart must be at least "
                                + MIN_WIDTH
                                + " by "
                                + MIN_HEIGHT
                                + " with a scale of 1 to 4 but was "
                                + width
                                + " by "
                                + height
                                + " with "
                                + scale);
            }
        }
    }
}
