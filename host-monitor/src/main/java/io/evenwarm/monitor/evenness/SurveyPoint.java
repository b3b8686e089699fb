package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.TimeSpan;
import java.util.List;

/**
 * A point of a survey and what was read there.
 *
 * @param probe its name
 * @param position where it was
 * @param quality of the probe
 * @param curve °C or %RH, oldest first; NaN is a bad reading or the begin of a hole
 * @param stays when the probe stood there, oldest first; none: all the time
 */
public record SurveyPoint(
        String probe, Position position, ProbeQuality quality, Curve curve, List<TimeSpan> stays) {

    public SurveyPoint {
        stays = List.copyOf(stays);
    }

    /** One whose probe stood there all the time. */
    public SurveyPoint(String probe, Position position, ProbeQuality quality, Curve curve) {
        this(probe, position, quality, curve, List.of());
    }

    /** Whether its probe stood elsewhere for some of the time. */
    boolean isMoved() {
        return !stays.isEmpty();
    }

    /** Whether its probe stood there for the whole of a stretch of time. */
    boolean wasThere(long beginMillis, long lengthMillis) {
        if (stays.isEmpty()) {
            return true;
        }
        for (TimeSpan stay : stays) {
            if (beginMillis >= stay.from().toEpochMilli()
                    && beginMillis + lengthMillis <= stay.to().toEpochMilli()) {
                return true;
            }
        }
        return false;
    }

    /** Probe and place, for a person; once where they say the same. */
    String words() {
        return probe.equals(position.label()) ? probe : probe + " (" + position.label() + ")";
    }
}
