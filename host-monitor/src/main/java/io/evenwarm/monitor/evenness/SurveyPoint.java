package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.Curve;

/**
 * A point of a survey and what was read there.
 *
 * @param probe its name
 * @param position where it was
 * @param quality of the probe
 * @param curve °C or %RH, oldest first; NaN is a bad reading or the begin of a hole
 */
public record SurveyPoint(String probe, Position position, ProbeQuality quality, Curve curve) {

    /** Probe and place, for a person; once where they say the same. */
    String words() {
        return probe.equals(position.label()) ? probe : probe + " (" + position.label() + ")";
    }
}
