package io.evenwarm.monitor.history;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.JournalRecord;
import java.io.IOException;
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
}
