package io.evenwarm.agent.app;

import io.evenwarm.agent.journal.SnapshotDigest;
import io.evenwarm.agent.rehearsal.PastStory;
import io.evenwarm.agent.rehearsal.RunningScenario;
import io.evenwarm.codec.MessageCodec;
import io.evenwarm.frame.FrameWriter;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Event;
import io.evenwarm.message.Message;
import io.evenwarm.message.Moment;
import io.evenwarm.message.PreviousRun;
import java.io.IOException;
import java.io.OutputStream;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;

/**
 * Writes an invented past as frames, as an agent would have sent it over the years: the journal's
 * entries in full batches, and between them, in order of time, what a monitor would have seen live.
 * An entry may come somewhat later than what was seen live with it.
 *
 * <p>Before the snapshots of a second stands a {@link Message.Time} with the true time of that
 * second: the wall clock in the snapshots may be wrong, after a power cut. Snapshots come each
 * {@value #LOOK_SECONDS} s, and when something happens.
 */
final class PastMaking {

    /** The journal's name: no agent's own has a space in it. */
    static final String JOURNAL = "invented past";

    private static final int LOOK_SECONDS = 120;
    private static final int SLICE_SECONDS = 6 * 3600;
    private static final int SLICES_AHEAD = 4;

    /** A keeper comes to a cabinet whose cut-off has latched, looks at it, and lets it heat. */
    private static final int RESET_AFTER_SECONDS = 1800;

    private final PastStory story;
    private final List<Player> players;
    private final Instant begin;
    private final OutputStream out;
    private final MessageCodec codec = new MessageCodec();
    private final BootId monitorBoot = new BootId(new UUID(0, 1));
    private final List<JournalRecord> waiting = new ArrayList<>();
    private Optional<Moment> lastAlive = Optional.empty();
    private long sequence;

    /** What one cabinet gave in one second. */
    private record Given(
            long second, Optional<CabinetSnapshot> shown, List<JournalRecord> records) {}

    /** One cabinet of the past. */
    private static final class Player {
        private final RunningScenario running;
        private final SnapshotDigest digest;
        private long trippedSeconds;

        Player(RunningScenario running, int everySeconds) {
            this.running = running;
            this.digest = new SnapshotDigest(everySeconds);
        }

        List<Given> play(long from, long to) {
            List<Given> given = new ArrayList<>();
            for (long second = from; second < to; second++) {
                Optional<CabinetSnapshot> now = running.second();
                if (now.isEmpty()) {
                    continue;
                }
                CabinetSnapshot snapshot = now.get();
                resetAfterAWhile(snapshot);
                List<JournalRecord> records = digest.digest(snapshot);
                boolean isShown = second % LOOK_SECONDS == 0 || hasEvent(records);
                if (isShown || !records.isEmpty()) {
                    given.add(
                            new Given(
                                    second,
                                    isShown ? Optional.of(snapshot) : Optional.empty(),
                                    records));
                }
            }
            return given;
        }

        private static boolean hasEvent(List<JournalRecord> records) {
            for (JournalRecord each : records) {
                if (each instanceof Event) {
                    return true;
                }
            }
            return false;
        }

        private void resetAfterAWhile(CabinetSnapshot snapshot) {
            trippedSeconds = snapshot.guard() == GuardState.TRIPPED ? trippedSeconds + 1 : 0;
            if (trippedSeconds > 0 && trippedSeconds % RESET_AFTER_SECONDS == 0) {
                running.say(new Command.ResetCutOff(snapshot.cabinet()));
            }
        }
    }

    /**
     * @param cabinets of the configuration; all simulated
     * @param everySeconds between two readings of a cabinet
     */
    PastMaking(
            PastStory story, List<CabinetSettings> cabinets, int everySeconds, OutputStream out) {
        this.story = story;
        this.begin = story.begin();
        this.out = out;
        List<Player> made = new ArrayList<>();
        for (int i = 0; i < cabinets.size(); i++) {
            CabinetSettings cabinet = cabinets.get(i);
            made.add(
                    new Player(
                            story.begin(
                                    cabinet.plan(),
                                    cabinet.simulated().orElseThrow(),
                                    i,
                                    cabinets.size()),
                            everySeconds));
        }
        this.players = List.copyOf(made);
    }

    /**
     * Makes and writes all of it. While a slice is written, the cabinets run ahead by {@value
     * #SLICES_AHEAD} slices at most.
     *
     * @throws IOException when nobody reads it any more
     */
    void run() throws IOException {
        ExecutorService threads =
                Executors.newFixedThreadPool(Runtime.getRuntime().availableProcessors());
        try {
            List<CompletableFuture<List<Given>>> newest =
                    Collections.nCopies(
                            players.size(), CompletableFuture.completedFuture(List.of()));
            Deque<List<CompletableFuture<List<Given>>>> ahead = new ArrayDeque<>();
            long begun = 0;
            for (long from = 0; from < story.seconds(); from += SLICE_SECONDS) {
                while (begun < story.seconds() && ahead.size() < SLICES_AHEAD) {
                    newest = played(newest, begun, threads);
                    ahead.add(newest);
                    begun += SLICE_SECONDS;
                }
                write(from, endOfSlice(from), results(ahead.remove()));
            }
            flushRecords();
            send(new Message.Goodbye("the invented past is told"));
            out.flush();
        } finally {
            threads.shutdownNow();
            players.forEach(player -> player.running.close());
        }
    }

    private long endOfSlice(long from) {
        return Math.min(from + SLICE_SECONDS, story.seconds());
    }

    /** What each cabinet gives in a slice, when that of the slice before it is there. */
    private List<CompletableFuture<List<Given>>> played(
            List<CompletableFuture<List<Given>>> before, long from, ExecutorService threads) {
        List<CompletableFuture<List<Given>>> played = new ArrayList<>();
        for (int i = 0; i < players.size(); i++) {
            Player player = players.get(i);
            played.add(
                    before.get(i)
                            .thenApplyAsync(
                                    earlier -> player.play(from, endOfSlice(from)), threads));
        }
        return played;
    }

    private static List<List<Given>> results(List<CompletableFuture<List<Given>>> playing)
            throws IOException {
        List<List<Given>> results = new ArrayList<>();
        for (CompletableFuture<List<Given>> one : playing) {
            try {
                results.add(one.get());
            } catch (ExecutionException e) {
                throw new IllegalStateException("a cabinet's past failed", e.getCause());
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                throw new IOException("interrupted", e);
            }
        }
        return results;
    }

    private void write(long from, long to, List<List<Given>> cabinets) throws IOException {
        int[] next = new int[cabinets.size()];
        for (long second = from; second < to; second++) {
            boolean isTimed = false;
            for (int i = 0; i < next.length; i++) {
                List<Given> given = cabinets.get(i);
                if (next[i] >= given.size() || given.get(next[i]).second() != second) {
                    continue;
                }
                Given now = given.get(next[i]++);
                for (JournalRecord each : now.records()) {
                    startedBefore(each);
                    keep(each);
                }
                if (now.shown().isPresent()) {
                    if (!isTimed) {
                        send(time(second));
                        isTimed = true;
                    }
                    send(new Message.Live(now.shown().get()));
                }
            }
        }
        send(time(to));
        out.flush();
    }

    private Message.Time time(long second) {
        return new Message.Time(
                new Moment(monitorBoot, second * 1_000_000_000L, begin.plusSeconds(second), true));
    }

    /** With the first entry of another boot the agent has started. */
    private void startedBefore(JournalRecord record) throws IOException {
        Moment moment = record.moment();
        Optional<Moment> before = lastAlive;
        lastAlive = Optional.of(moment);
        if (before.isPresent() && before.get().boot().equals(moment.boot())) {
            return;
        }
        keep(
                new Event(
                        0,
                        moment,
                        Optional.empty(),
                        Event.Kind.AGENT_STARTED,
                        Optional.empty(),
                        before.isPresent()
                                ? "agent started, in an invented past"
                                : "an invented past begins: none of it ever happened",
                        before.map(
                                alive ->
                                        new PreviousRun(
                                                PreviousRun.Ending.POWER_LOSS,
                                                Optional.of(alive)))));
    }

    private void keep(JournalRecord record) throws IOException {
        waiting.add(numbered(record, ++sequence));
        if (waiting.size() == Message.HistoryBatch.MAX_RECORDS) {
            flushRecords();
        }
    }

    private static JournalRecord numbered(JournalRecord record, long number) {
        return record.fold(
                readings ->
                        new JournalRecord.Readings(
                                number,
                                readings.moment(),
                                readings.cabinet(),
                                readings.probes(),
                                readings.setPoint(),
                                readings.limits(),
                                readings.duty(),
                                readings.heaterOnFraction(),
                                readings.guard()),
                event ->
                        new Event(
                                number,
                                event.moment(),
                                event.subject(),
                                event.kind(),
                                event.finding(),
                                event.words(),
                                event.previousRun()));
    }

    private void flushRecords() throws IOException {
        if (!waiting.isEmpty()) {
            send(new Message.HistoryBatch(JOURNAL, waiting));
            waiting.clear();
        }
    }

    private void send(Message message) throws IOException {
        out.write(FrameWriter.frame(codec.encode(message)));
    }
}
