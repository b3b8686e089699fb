package io.evenwarm.monitor.report;

import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.outage.TubCourse;
import java.time.Instant;
import java.util.List;

/**
 * A tub's whole exposure since it went in.
 *
 * @param stands where it stood, the first place first: one that moved has more than one
 * @param until when it went out, or the newest reading
 * @param events that it went through, the oldest first
 * @param notKnown what is not known and why, a sentence each
 */
public record TubAccount(
        List<Tub> stands,
        Instant until,
        TubCourse course,
        List<Outage> events,
        List<String> notKnown) {

    public TubAccount {
        stands = List.copyOf(stands);
        events = List.copyOf(events);
        notKnown = List.copyOf(notKnown);
    }

    /** Where it stands, or stood last. */
    public Tub newest() {
        return stands.get(stands.size() - 1);
    }
}
