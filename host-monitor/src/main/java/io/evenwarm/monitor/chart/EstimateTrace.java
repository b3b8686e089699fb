package io.evenwarm.monitor.chart;

import io.evenwarm.monitor.history.Curve;

/**
 * A temperature that was not measured, with the band in which it lies, for a chart: drawn broken,
 * over a hatched band, so that nobody takes it for a reading.
 *
 * @param label what stands at its end; must say that it is no reading
 * @param likely most likely value, °C; NaN where it is not known
 * @param low the band's lower edge, °C, at the same times
 * @param high the band's upper edge, °C, at the same times
 */
public record EstimateTrace(String label, Curve likely, Curve low, Curve high) {

    public EstimateTrace {
        if (low.size() != likely.size() || high.size() != likely.size()) {
            throw new IllegalArgumentException(
                    "an estimate and its band must have as many points but have "
                            + likely.size()
                            + ", "
                            + low.size()
                            + " and "
                            + high.size());
        }
    }
}
