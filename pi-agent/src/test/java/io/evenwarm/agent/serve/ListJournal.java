package io.evenwarm.agent.serve;

import io.evenwarm.agent.Snapshots;
import io.evenwarm.agent.journal.JournalFeed;
import io.evenwarm.agent.journal.JournalReader;
import io.evenwarm.agent.journal.JournalSlice;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Event;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;

/** A journal in a list, whose file the test's hand can damage. */
final class ListJournal implements JournalFeed {

    private final List<JournalRecord> records = new ArrayList<>();
    private final CopyOnWriteArrayList<Runnable> listeners = new CopyOnWriteArrayList<>();
    private String name = "first";
    private boolean isFailing;

    /** Commits so many more. */
    void commit(int count) {
        synchronized (this) {
            for (int i = 0; i < count; i++) {
                long sequence = records.size() + 1L;
                records.add(
                        new Event(
                                sequence,
                                Snapshots.moment(sequence),
                                Optional.empty(),
                                Event.Kind.AGENT_STARTED,
                                Optional.empty(),
                                "number " + sequence + " of " + name));
            }
        }
        listeners.forEach(Runnable::run);
    }

    synchronized void beginAnew(String newName) {
        name = newName;
        records.clear();
    }

    synchronized void fail(boolean failing) {
        isFailing = failing;
    }

    @Override
    public JournalReader openReader() {
        return new JournalReader() {
            @Override
            public JournalSlice after(long sequence, int max) throws IOException {
                return slice(sequence, max);
            }

            @Override
            public void close() {}
        };
    }

    private synchronized JournalSlice slice(long sequence, int max) throws IOException {
        if (isFailing) {
            throw new IOException("the disk is on strike");
        }
        return new JournalSlice(
                name,
                records.stream().filter(each -> each.sequence() > sequence).limit(max).toList());
    }

    @Override
    public Subscription subscribe(Runnable onCommit) {
        listeners.add(onCommit);
        return () -> listeners.remove(onCommit);
    }
}
