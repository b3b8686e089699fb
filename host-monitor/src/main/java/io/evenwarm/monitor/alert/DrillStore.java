package io.evenwarm.monitor.alert;

import io.evenwarm.monitor.alarm.EventId;
import java.io.IOException;
import java.time.Instant;
import java.util.List;
import java.util.UUID;

/**
 * Drills as the running monitor sees them. Who asks for one writes into the same store from another
 * process: it is all that the two share.
 */
public interface DrillStore {

    /** Those that have not ended, the oldest first. */
    List<Drill> open() throws IOException;

    /** The monitor took it up. */
    void taken(UUID id, Instant at) throws IOException;

    /** Its alarm occurred. */
    void occurred(UUID id, EventId event) throws IOException;

    /**
     * It is over.
     *
     * @param outcome how, in words for a person
     * @param isAnswered whether a person acknowledged it: the next one is then due a while later
     */
    void ended(UUID id, Instant at, String outcome, boolean isAnswered) throws IOException;

    /**
     * When somebody last acknowledged a drill, or since when one is to be expected at all.
     *
     * @param now is kept as that moment when there is none yet
     */
    Instant dueSince(Instant now) throws IOException;
}
