package io.evenwarm.monitor.evenness;

import java.util.Optional;

/**
 * The figures of one point.
 *
 * @param mean over the settled part, corrected
 * @param fluctuation temperature fluctuation at the point: how far its readings were from that
 *     mean, at most
 * @param halfHourFluctuation half the range within half an hour, mean of all: does not grow with
 *     the span's length
 * @param deviation of the mean from the set point; empty where no set point is known
 * @param greatestDeviation from the set point of any reading there: |deviation| + fluctuation
 * @param variationInSpace of the mean from that at the centre; empty without a point there
 * @param independentSamples how many independent ones the readings are worth
 * @param spot whether it stands out
 * @param verdict of the greatest deviation; empty where no set point or limit is known
 */
public record PointFigures(
        String probe,
        Position position,
        Estimate mean,
        Estimate fluctuation,
        double halfHourFluctuation,
        Optional<Estimate> deviation,
        Optional<Estimate> greatestDeviation,
        Optional<Estimate> variationInSpace,
        double independentSamples,
        Standing spot,
        Optional<Verdict> verdict) {

    /** How a point stands against the others. */
    public enum Standing {
        /** Surely warmer (or damper) than the median of all points, by more than half the limit. */
        HOT_SPOT,
        /** Surely colder (or drier), by more than half the limit: the moved air misses it. */
        DEAD_SPOT,
        ORDINARY
    }

    /** Probe and place, for a person; once where they say the same. */
    public String words() {
        return probe.equals(position.label()) ? probe : probe + " (" + position.label() + ")";
    }
}
