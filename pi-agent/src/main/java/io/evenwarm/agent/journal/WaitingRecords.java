package io.evenwarm.agent.journal;

import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Event;
import io.evenwarm.message.PreviousRun;
import java.util.ArrayDeque;
import java.util.Collections;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Records that wait for the disk, in order. Used by the journal's writer only. */
final class WaitingRecords {

    /** About two hours of three cabinets; then the oldest go. */
    static final int MAX = 4096;

    /** What waited for long is written in parts, each of which fits where the whole may not. */
    private static final int MAX_IN_COMMIT = 64;

    private final ArrayDeque<JournalRecord> waiting = new ArrayDeque<>();
    private Optional<Attempt> attempt = Optional.empty();

    boolean isEmpty() {
        return waiting.isEmpty();
    }

    /** Adds one. Returns false when the oldest had to go for it. */
    boolean add(JournalRecord each) {
        boolean hasRoom = waiting.size() < MAX;
        if (!hasRoom) {
            waiting.removeFirst();
        }
        waiting.addLast(each);
        return hasRoom;
    }

    /** The next part to commit to this file; {@link #done} or {@link #settle} comes next. */
    List<JournalRecord> begin(JournalFile open) {
        List<JournalRecord> part = waiting.stream().limit(MAX_IN_COMMIT).toList();
        attempt = Optional.of(new Attempt(open.name(), open.lastSequence(), part));
        return part;
    }

    /** The part that was begun is committed. */
    void done() {
        attempt.ifPresent(each -> each.part().forEach(written -> waiting.removeFirst()));
        attempt = Optional.empty();
    }

    /**
     * A commit that failed may be in the file all the same, for example where only its sync failed.
     * Nobody else writes, so the numbers tell.
     *
     * @param opened the file, opened again
     */
    void settle(JournalFile opened) {
        if (attempt.isEmpty()) {
            return;
        }
        Attempt before = attempt.get();
        attempt = Optional.empty();
        if (!opened.name().equals(before.journal())
                || opened.lastSequence() != before.lastSequence() + before.part().size()) {
            return;
        }
        Set<JournalRecord> written = Collections.newSetFromMap(new IdentityHashMap<>());
        written.addAll(before.part());
        waiting.removeIf(written::contains);
    }

    /** Writes into the start that waits how the run before it ended. */
    void startedAfter(Optional<PreviousRun> before) {
        List<JournalRecord> all = List.copyOf(waiting);
        waiting.clear();
        for (JournalRecord each : all) {
            waiting.addLast(
                    each instanceof Event event && event.kind() == Event.Kind.AGENT_STARTED
                            ? startedAfter(event, before)
                            : each);
        }
    }

    private static Event startedAfter(Event event, Optional<PreviousRun> before) {
        String words = before.map(run -> "; the run before: " + run.ending().words()).orElse("");
        return new Event(
                event.sequence(),
                event.moment(),
                event.subject(),
                event.kind(),
                event.finding(),
                event.words() + words,
                before);
    }

    /** A commit that was begun: what it would have made of the journal. */
    private record Attempt(String journal, long lastSequence, List<JournalRecord> part) {}
}
