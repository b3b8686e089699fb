package io.evenwarm.monitor.history;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.JournalRecord;
import java.io.IOException;
import java.util.List;

/** Stores what agents journalled, exactly once. */
public interface HistoryWriter {

    /** The last sequence number stored of an agent's journal; 0 when none. */
    long lastSequence(AgentName agent, String journal) throws IOException;

    /**
     * Stores records in order; those at or below {@link #lastSequence} are passed over. On return
     * they survive a power cut.
     *
     * @throws IOException when they could not be stored; then none of them is
     */
    void append(AgentName agent, String journal, List<JournalRecord> records) throws IOException;
}
