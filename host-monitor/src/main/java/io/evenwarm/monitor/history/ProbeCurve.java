package io.evenwarm.monitor.history;

import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;

/**
 * What one probe read.
 *
 * @param unit of the curve's values
 */
public record ProbeCurve(ProbeName probe, ProbePlace place, Unit unit, Curve curve) {

    /** Units of a probe's curve. */
    public enum Unit {
        CELSIUS,
        PERCENT_RELATIVE_HUMIDITY
    }
}
