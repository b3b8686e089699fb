package io.evenwarm.agent.journal;

/** The journal as sessions see it. Any thread may use it. */
public interface JournalFeed {

    /** Opens a reader; the file itself is opened when it is first asked. */
    JournalReader openReader();

    /**
     * Has {@code onCommit} called after each commit, from the writer's thread: it must return at
     * once.
     *
     * @return ends the calls
     */
    Subscription subscribe(Runnable onCommit);

    /** Ends what it stands for. */
    @FunctionalInterface
    interface Subscription extends AutoCloseable {
        @Override
        void close();
    }
}
