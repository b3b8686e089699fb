package io.evenwarm.agent.serve;

import io.evenwarm.agent.journal.JournalReader;
import io.evenwarm.agent.journal.JournalSlice;
import io.evenwarm.codec.MessageCodec;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Message.HistoryBatch;
import java.io.IOException;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicBoolean;

/**
 * The journal from where the other side asks, batch after batch, one on its way at a time.
 *
 * <p>A batch that is not acknowledged is sent again, since a serial line may lose either: the other
 * side tells by the sequence numbers what it has. The longer a frame, the likelier the line damages
 * it: after a batch that did not arrive the next are half as long, down to one record, and they
 * grow again while they do arrive. Used by the session's thread only, but for {@link #committed()}.
 */
final class HistoryStream implements AutoCloseable {

    private static final System.Logger LOG = System.getLogger(HistoryStream.class.getName());

    /** Longer than a monitor takes to store a batch, shorter than it takes to ask again. */
    static final long REPEAT_NANOS = 10_000_000_000L;

    /**
     * The same where a damaged frame came since: it may have been the acknowledgement. Longer than
     * a monitor takes as a rule, so that one who sends nothing but noise is not answered by a
     * flood.
     */
    static final long REPEAT_AFTER_DAMAGE_NANOS = 1_000_000_000L;

    static final long RETRY_NANOS = 5_000_000_000L;

    private static final MessageCodec CODEC = new MessageCodec();

    private final JournalReader reader;
    private final int maxRecords;
    private final AtomicBoolean mayHaveMore = new AtomicBoolean();

    private boolean isAsked;
    private boolean owesAnswer;
    private long position;
    private String journal = "";
    private Optional<HistoryBatch> onItsWay = Optional.empty();
    private long sentNanos;
    private boolean cameDamaged;
    private int records;
    private long retryNotBeforeNanos;
    private boolean isFailing;

    /**
     * @param maxRecords in one batch; fewer on a slow line, so that nothing else waits long
     */
    HistoryStream(JournalReader reader, int maxRecords) {
        this.reader = reader;
        this.maxRecords = maxRecords;
        this.records = maxRecords;
    }

    /** The other side asks for what comes after a number; the answer may be an empty batch. */
    void requested(long afterSequence, long nowNanos) {
        if (onItsWay.isPresent() && afterSequence == position) {
            didNotArrive();
        }
        isAsked = true;
        owesAnswer = true;
        position = afterSequence;
        onItsWay = Optional.empty();
        retryNotBeforeNanos = nowNanos;
        mayHaveMore.set(true);
    }

    /** Another peer speaks on the same line now: it has asked for nothing yet. */
    void forget() {
        isAsked = false;
        owesAnswer = false;
        onItsWay = Optional.empty();
    }

    /** Everything up to a number is stored at the other side. */
    void acknowledged(long sequence) {
        onItsWay.ifPresent(batch -> acknowledged(sequence, batch.records()));
    }

    private void acknowledged(long sequence, List<JournalRecord> sent) {
        if (sequence < sent.get(0).sequence()) {
            // Answers a batch from before this one.
            return;
        }
        records = Math.min(maxRecords, records + 1);
        position = Math.min(sequence, sent.get(sent.size() - 1).sequence());
        onItsWay = Optional.empty();
        mayHaveMore.set(true);
    }

    /** A damaged frame came, and with it perhaps an acknowledgement. */
    void cameDamaged() {
        cameDamaged = true;
    }

    /** The journal has grown. Any thread. */
    void committed() {
        mayHaveMore.set(true);
    }

    /** What to send now, if anything. */
    Optional<HistoryBatch> next(long nowNanos) {
        if (!isAsked) {
            return Optional.empty();
        }
        if (onItsWay.isPresent()) {
            long sinceNanos = nowNanos - sentNanos;
            if (sinceNanos < (cameDamaged ? REPEAT_AFTER_DAMAGE_NANOS : REPEAT_NANOS)) {
                return Optional.empty();
            }
            if (cameDamaged) {
                sendAgain();
            } else {
                didNotArrive();
            }
        }
        if (!mayHaveMore.get() || nowNanos - retryNotBeforeNanos < 0) {
            return Optional.empty();
        }
        try {
            // Cleared before the read: a commit in between is looked for again, and never missed.
            mayHaveMore.set(false);
            Optional<HistoryBatch> batch = read(nowNanos);
            isFailing = false;
            return batch;
        } catch (IOException e) {
            mayHaveMore.set(true);
            retryNotBeforeNanos = nowNanos + RETRY_NANOS;
            if (!isFailing) {
                isFailing = true;
                LOG.log(System.Logger.Level.WARNING, "no history is sent: {0}", e.getMessage());
            }
            return Optional.empty();
        }
    }

    private void didNotArrive() {
        records = Math.max(1, records / 2);
        sendAgain();
    }

    private void sendAgain() {
        onItsWay = Optional.empty();
        mayHaveMore.set(true);
    }

    private Optional<HistoryBatch> read(long nowNanos) throws IOException {
        JournalSlice slice = reader.after(position, records);
        if (!journal.isEmpty() && !slice.journal().equals(journal)) {
            // The journal was begun anew while we talked: so are its numbers.
            position = 0;
            slice = reader.after(0, records);
        }
        journal = slice.journal();
        if (slice.records().isEmpty()) {
            boolean isAnswer = owesAnswer;
            owesAnswer = false;
            return isAnswer ? Optional.of(new HistoryBatch(journal, List.of())) : Optional.empty();
        }
        owesAnswer = false;
        sentNanos = nowNanos;
        cameDamaged = false;
        onItsWay = Optional.of(CODEC.batch(journal, slice.records()));
        return onItsWay;
    }

    @Override
    public void close() {
        reader.close();
    }
}
