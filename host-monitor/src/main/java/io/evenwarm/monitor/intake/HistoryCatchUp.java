package io.evenwarm.monitor.intake;

import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Message;
import io.evenwarm.monitor.history.HistoryWriter;
import io.evenwarm.monitor.history.JournalPosition;
import java.io.IOException;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * Fetches one agent's journal over one link: asks from the last stored record on, stores each
 * batch, and only then acknowledges it. What the store knows is the truth about what has come, so a
 * break anywhere loses nothing and doubles nothing.
 *
 * <p>Used by the agent's worker only.
 */
final class HistoryCatchUp {

    /**
     * Asks again after so long without a batch: on a serial line a batch or an acknowledgement can
     * be lost to noise, and then both sides would wait. Longer than agents take between commits.
     */
    static final Duration SILENCE_MAX = Duration.ofSeconds(20);

    /** Time between tries to store a batch that the store did not take. */
    static final Duration STORE_RETRY = Duration.ofSeconds(5);

    private final AgentName agent;
    private final HistoryWriter history;
    private long lastAskedOrServedNanos;
    private long askedAfter;
    private long discardedBefore;
    private Message.@Nullable HistoryBatch unstored;
    private long retryAtNanos;
    private Optional<String> trouble = Optional.empty();

    HistoryCatchUp(AgentName agent, HistoryWriter history) {
        this.agent = agent;
        this.history = history;
    }

    /** Why nothing is stored now, for a person; empty while all is well. */
    Optional<String> trouble() {
        return trouble;
    }

    /** Asks for what is not stored yet. */
    void begin(Link link, long nowNanos) throws LinkException {
        lastAskedOrServedNanos = nowNanos;
        try {
            Optional<JournalPosition> stored = history.newestJournal(agent);
            trouble = Optional.empty();
            ask(link, stored.map(JournalPosition::lastSequence).orElse(0L));
        } catch (LinkException e) {
            throw e;
        } catch (IOException e) {
            trouble = Optional.of(words(e));
        }
    }

    /** Takes a batch. */
    void received(Link link, Message.HistoryBatch batch, long nowNanos) throws LinkException {
        requireRising(batch.records());
        lastAskedOrServedNanos = nowNanos;
        unstored = batch;
        store(link, batch, nowNanos);
    }

    /** Does what is due: tries a batch again, or asks again. */
    void step(Link link, long nowNanos) throws LinkException {
        Message.HistoryBatch batch = unstored;
        if (batch != null) {
            if (nowNanos - retryAtNanos >= 0) {
                store(link, batch, nowNanos);
            }
        } else if (mayHaveMissedOne(link)
                || nowNanos - lastAskedOrServedNanos > SILENCE_MAX.toNanos()) {
            begin(link, nowNanos);
        }
    }

    /**
     * Whether a damaged frame was passed over since the last look. It may have been a batch, and on
     * a bad line nothing would go on if each one cost the wait for silence.
     */
    private boolean mayHaveMissedOne(Link link) {
        long discarded = link.discardedFrames();
        boolean isMore = discarded > discardedBefore;
        discardedBefore = discarded;
        return isMore;
    }

    private void store(Link link, Message.HistoryBatch batch, long nowNanos) throws LinkException {
        try {
            long stored = history.lastSequence(agent, batch.journal());
            List<JournalRecord> records = batch.records();
            if (skipsWhatWasNotAskedFor(batch, stored)) {
                unstored = null;
                ask(link, stored);
                return;
            }
            history.append(agent, batch.journal(), records);
            unstored = null;
            trouble = Optional.empty();
            if (!records.isEmpty()) {
                link.send(
                        new Message.Acknowledge(
                                Math.max(stored, records.get(records.size() - 1).sequence())));
            }
        } catch (LinkException e) {
            throw e;
        } catch (IOException e) {
            retryAtNanos = nowNanos + STORE_RETRY.toNanos();
            trouble = Optional.of(words(e));
        }
    }

    /**
     * Whether the batch skips records because we asked for too few: the agent's journal began anew
     * since we last met, and what we asked for was counted in the old one.
     */
    private boolean skipsWhatWasNotAskedFor(Message.HistoryBatch batch, long stored) {
        return askedAfter > stored
                && (batch.records().isEmpty() || batch.records().get(0).sequence() > stored + 1);
    }

    private void ask(Link link, long afterSequence) throws LinkException {
        askedAfter = afterSequence;
        link.send(new Message.HistoryRequest(afterSequence));
    }

    private static void requireRising(List<JournalRecord> records) throws LinkException {
        for (int i = 1; i < records.size(); i++) {
            if (records.get(i).sequence() <= records.get(i - 1).sequence()) {
                throw new LinkException(
                        "it sent its journal out of order (record "
                                + records.get(i).sequence()
                                + " after "
                                + records.get(i - 1).sequence()
                                + ")");
            }
        }
    }

    private static String words(IOException e) {
        return "its history can't be stored: " + e.getMessage();
    }
}
