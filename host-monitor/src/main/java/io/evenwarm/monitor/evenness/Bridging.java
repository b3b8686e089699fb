package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.TimeSpan;
import java.util.List;

/**
 * How places that were measured at different times are compared with each other.
 *
 * @param reference the point that was measured all the time, in a person's words
 * @param points the places of probes that were moved
 */
public record Bridging(String reference, List<Place> points) {

    public Bridging {
        points = List.copyOf(points);
    }

    /**
     * A place that was measured for some of the time.
     *
     * @param probe that stood there
     * @param position where that is
     * @param settled the parts that count
     * @param added what its mean is less certain by, ± for 95 %
     */
    public record Place(String probe, String position, List<TimeSpan> settled, double added) {

        public Place {
            settled = List.copyOf(settled);
        }
    }

    /** How they were compared, and what that costs, for a person. */
    String words(Measure measure, Wording wording) {
        Place worst =
                points.stream()
                        .reduce((one, other) -> other.added > one.added ? other : one)
                        .orElseThrow();
        return "What moved probes read counts by its difference to "
                + reference
                + ", measured all the time, so that what the cabinet as a whole did in between is no"
                + " difference between places. That they were not measured all the time adds ±"
                + wording.difference(measure, worst.added)
                + (points.size() == 1 ? "" : " at most, at " + worst.position)
                + ".";
    }
}
