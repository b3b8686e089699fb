package io.evenwarm.monitor.history;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.ProbeSensor;
import java.io.IOException;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** Stores what agents journalled, exactly once. Any thread may call these; they take turns. */
public interface HistoryWriter {

    /** The last sequence number stored of an agent's journal; 0 when none. */
    long lastSequence(AgentName agent, String journal) throws IOException;

    /** The journal of the agent that was heard of last; empty when none ever was. */
    Optional<JournalPosition> newestJournal(AgentName agent) throws IOException;

    /**
     * Stores records in order; those at or below {@link #lastSequence} are passed over. On return
     * they survive a power cut.
     *
     * @param records sequence numbers must rise
     * @throws IOException when they could not be stored; then none of them is. The message says
     *     why, and what to do
     */
    void append(AgentName agent, String journal, List<JournalRecord> records) throws IOException;

    /**
     * Stores what an agent says that its probes are, where that is new; of those that are not
     * listed, that it is not known.
     *
     * @param now of the monitor
     * @throws IOException when it could not be stored
     */
    void sensors(AgentName agent, List<ProbeSensor> sensors, Instant now) throws IOException;
}
