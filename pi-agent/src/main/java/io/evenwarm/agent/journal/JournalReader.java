package io.evenwarm.agent.journal;

import java.io.IOException;

/**
 * Reads what is committed, and nothing else: what a reader has returned survives a power cut.
 *
 * <p>Each reader has a connection of its own and never waits for the writer. One thread at a time
 * may use it.
 */
public interface JournalReader extends AutoCloseable {

    /**
     * The first records after a sequence number.
     *
     * @param sequence the last one that the asker has; 0 for all
     * @param max at most this many, above 0
     * @throws IOException when the journal can't be read now; asking again later is worth while
     */
    JournalSlice after(long sequence, int max) throws IOException;

    @Override
    void close();
}
