package io.evenwarm.agent.journal;

import io.evenwarm.agent.port.SnapshotListener;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.WallClock;
import io.evenwarm.codec.MessageCodec;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Event;
import io.evenwarm.message.Moment;
import io.evenwarm.message.PreviousRun;
import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.atomic.AtomicReference;
import java.util.concurrent.locks.LockSupport;

/**
 * The agent's durable record: readings at a steady pace, an event at each change.
 *
 * <p>Whatever fails here, the agent runs on: {@link #health()} says what is wrong, records wait in
 * memory ({@value WaitingRecords#MAX} of them, then the oldest go), and the file is tried again by
 * itself. What {@link #openReader() a reader} has returned survives a power cut; readings not yet
 * committed, at most the commit time's worth, do not.
 *
 * <p>Threads: {@link #published} and the two notes about the agent's run may come from any one
 * thread and never wait. Either {@link #start()} gives the journal a thread of its own, or the
 * owner calls {@link #step(long)} from one thread; never both.
 */
public final class Journal implements SnapshotListener, JournalFeed, AutoCloseable {

    static final System.Logger LOG = System.getLogger(Journal.class.getName());

    /** Snapshots that may wait for the writer: minutes of them. The oldest go when it is full. */
    static final int MAX_QUEUED = 1024;

    private static final long SECOND_NANOS = 1_000_000_000L;
    private static final long FIRST_RETRY_NANOS = SECOND_NANOS;
    private static final long LAST_RETRY_NANOS = 30 * SECOND_NANOS;
    private static final long UPKEEP_NANOS = 600 * SECOND_NANOS;

    /** So long a file that was set aside is told of, so that every monitor's log gets it. */
    private static final long NOTICE_NANOS = 60 * SECOND_NANOS;

    private static final long LOSS_REPORT_NANOS = 60 * SECOND_NANOS;

    private static final int LAST_TRIES = 2;

    private static final Duration CLOSE_LIMIT = Duration.ofSeconds(2);

    private final JournalSettings settings;
    private final MonotonicClock clock;
    private final WallClock wallClock;
    private final MessageCodec codec = new MessageCodec();
    private final SnapshotDigest digest;

    private final ArrayBlockingQueue<Item> queue = new ArrayBlockingQueue<>(MAX_QUEUED);
    private final AtomicLong lost = new AtomicLong();
    private final AtomicReference<Optional<Damage>> unreadable =
            new AtomicReference<>(Optional.empty());
    private final CopyOnWriteArrayList<Runnable> onCommit = new CopyOnWriteArrayList<>();
    private final AtomicLong generation = new AtomicLong();

    // Written by the writer, or by start and close; read by anyone.
    private volatile JournalHealth health = new JournalHealth.Working();
    private volatile Optional<Thread> writer = Optional.empty();
    private volatile long lastCommitted;
    private volatile RunStart runStart = RunStart.UNKNOWN;
    private volatile Optional<PreviousRun> previousRun = Optional.empty();
    private volatile Optional<Instant> lastTrusted = Optional.empty();
    private volatile boolean closing;

    // The writer's own.
    private final WaitingRecords waiting = new WaitingRecords();
    private Optional<JournalFile> file = Optional.empty();
    private Optional<BootId> openStart = Optional.empty();
    private boolean isUrgent;
    private long lastCommitNanos;
    private long retryNotBeforeNanos;
    private long retryNanos = FIRST_RETRY_NANOS;
    private long nextUpkeepNanos;
    private Optional<Notice> notice = Optional.empty();
    private long lostReported;
    private long nextLossReportNanos;

    /**
     * @param clock measures commit and retry times: the machine's own, also where the cabinets'
     *     time is simulated
     * @param wallClock tells which records are past their time
     */
    public Journal(JournalSettings settings, MonotonicClock clock, WallClock wallClock) {
        this.settings = settings;
        this.clock = clock;
        this.wallClock = wallClock;
        this.digest = new SnapshotDigest(settings.intervalSeconds());
        long now = clock.nanos();
        this.lastCommitNanos = now;
        this.retryNotBeforeNanos = now;
        this.nextLossReportNanos = now;
        this.nextUpkeepNanos = now + 60 * SECOND_NANOS;
    }

    /** As the other, where nothing but the journal itself tells of the run before. */
    public void agentStarted(Moment moment, String words) {
        agentStarted(moment, words, RunStart.UNKNOWN);
    }

    /**
     * Notes that the agent has started, and how the run before ended; opens the file at the
     * writer's next round.
     */
    public void agentStarted(Moment moment, String words, RunStart start) {
        runStart = start;
        previousRun = EarlierRuns.noted(start);
        note(Event.Kind.AGENT_STARTED, moment, words);
    }

    /** How the run before this one ended, as far as is known by now. Any thread. */
    public Optional<PreviousRun> previousRun() {
        return previousRun;
    }

    /** The newest moment of an earlier run that a trusted clock dates. Any thread. */
    public Optional<Instant> lastTrustedBefore() {
        return lastTrusted;
    }

    /** Notes that the agent stops; call {@link #close()} next. */
    public void agentStopped(Moment moment, String words) {
        note(Event.Kind.AGENT_STOPPED, moment, words);
    }

    private void note(Event.Kind kind, Moment moment, String words) {
        enqueue(new Note(new Event(0, moment, Optional.empty(), kind, Optional.empty(), words)));
    }

    @Override
    public void published(CabinetSnapshot snapshot) {
        enqueue(new Tick(snapshot));
    }

    private void enqueue(Item item) {
        // Only this side adds, so one round makes room unless another thread adds too.
        while (!queue.offer(item)) {
            if (queue.poll() != null) {
                lost.incrementAndGet();
            }
        }
        writer.ifPresent(LockSupport::unpark);
    }

    /** How the journal does; cheap, from any thread. */
    public JournalHealth health() {
        return health;
    }

    /** The number of the last committed record; 0 while there is none. Any thread. */
    public long lastCommittedSequence() {
        return lastCommitted;
    }

    /** Snapshots and records that were dropped because the writer or the disk was too slow. */
    public long lostItems() {
        return lost.get();
    }

    @Override
    public JournalReader openReader() {
        return new SqliteJournalReader(settings.file().toAbsolutePath(), this, codec);
    }

    @Override
    public Subscription subscribe(Runnable listener) {
        onCommit.add(listener);
        return () -> onCommit.remove(listener);
    }

    /** Changes whenever the file at the journal's path may be another one; 0 while none is open. */
    long generation() {
        return generation.get();
    }

    /** A reader found the file of that generation damaged; the writer then sets it aside. */
    void foundUnreadable(JournalFault fault, long generationRead) {
        unreadable.set(Optional.of(new Damage(fault, generationRead)));
    }

    /** Gives the journal its thread. */
    public void start() {
        Thread thread = new Thread(this::runWriter, "journal-writer");
        thread.setDaemon(true);
        writer = Optional.of(thread);
        thread.start();
    }

    private void runWriter() {
        while (!closing) {
            step(clock.nanos());
            if (queue.isEmpty()) {
                LockSupport.parkNanos(this, SECOND_NANOS / 2);
            }
        }
        finish();
    }

    /**
     * One round of the writer: takes what waits in the queue, commits when it is time, and looks
     * after the file now and then.
     *
     * @param nowNanos the clock's time
     */
    public void step(long nowNanos) {
        drain();
        Optional<Damage> found = unreadable.getAndSet(Optional.empty());
        if (found.isPresent() && found.get().generation() == generation.get()) {
            fail(found.get().fault(), nowNanos);
        }
        boolean isTime = nowNanos - lastCommitNanos >= settings.commitSeconds() * 1e9;
        if (!waiting.isEmpty() && (isUrgent || isTime) && nowNanos - retryNotBeforeNanos >= 0) {
            commit(nowNanos);
        }
        if (notice.isPresent() && nowNanos - notice.get().untilNanos() >= 0) {
            notice = Optional.empty();
            if (file.isPresent()) {
                health = new JournalHealth.Working();
            }
        }
    }

    private void drain() {
        // Bounded by the queue's size, or a fast control thread could keep us here for ever.
        for (int i = 0; i < MAX_QUEUED; i++) {
            Item item = queue.poll();
            if (item == null) {
                break;
            }
            if (item instanceof Tick tick) {
                digest.digest(tick.snapshot()).forEach(this::keep);
            } else if (item instanceof Note event) {
                if (event.event().kind() == Event.Kind.AGENT_STARTED) {
                    openStart = Optional.of(event.event().moment().boot());
                }
                keep(event.event());
            }
        }
    }

    private void keep(JournalRecord each) {
        if (!waiting.add(each)) {
            lost.incrementAndGet();
        }
        isUrgent |= each instanceof Event;
    }

    private void commit(long nowNanos) {
        try {
            JournalFile open = open();
            upkeepWhenDue(open, nowNanos);
            tellOfThePreviousRun(open);
            while (!waiting.isEmpty()) {
                open.append(waiting.begin(open));
                waiting.done();
                lastCommitted = open.lastSequence();
            }
            isUrgent = false;
            lastCommitNanos = nowNanos;
            retryNanos = FIRST_RETRY_NANOS;
            if (notice.isEmpty()) {
                succeed(nowNanos);
            }
            onCommit.forEach(Runnable::run);
        } catch (JournalFault e) {
            fail(e, nowNanos);
        }
    }

    /** Only the file itself knows, and it is opened with the first commit. */
    private void tellOfThePreviousRun(JournalFile open) throws JournalFault {
        if (openStart.isEmpty()) {
            return;
        }
        Optional<PreviousRun> before = open.previousRun(openStart.get(), runStart);
        lastTrusted = open.lastTrustedBefore(openStart.get());
        previousRun = before;
        openStart = Optional.empty();
        waiting.startedAfter(before);
    }

    private JournalFile open() throws JournalFault {
        if (file.isPresent() && !file.get().isThere()) {
            closeFile();
            LOG.log(
                    System.Logger.Level.WARNING,
                    "the journal {0} was moved or removed while in use; a new one is begun",
                    settings.file());
        }
        if (file.isEmpty()) {
            JournalFile opened = JournalFile.open(settings, codec, runStart.machineBoot());
            file = Optional.of(opened);
            waiting.settle(opened);
            lastCommitted = opened.lastSequence();
            generation.incrementAndGet();
        }
        return file.get();
    }

    private void succeed(long nowNanos) {
        boolean wasFailing = health instanceof JournalHealth.Failing;
        health = new JournalHealth.Working();
        long lostNow = lost.get();
        if (wasFailing) {
            LOG.log(
                    System.Logger.Level.INFO,
                    "the journal works again; {0} entries were lost meanwhile",
                    lostNow - lostReported);
            lostReported = lostNow;
        } else if (lostNow != lostReported && nowNanos - nextLossReportNanos >= 0) {
            nextLossReportNanos = nowNanos + LOSS_REPORT_NANOS;
            LOG.log(
                    System.Logger.Level.WARNING,
                    "{0} entries did not reach the journal: its disk is too slow",
                    lostNow - lostReported);
            lostReported = lostNow;
        }
    }

    private void fail(JournalFault fault, long nowNanos) {
        closeFile();
        String words = fault.words();
        if (fault.cure() == JournalFault.Cure.SET_ASIDE) {
            words = setAside(words, nowNanos);
        } else {
            retryNotBeforeNanos = nowNanos + retryNanos;
            retryNanos = Math.min(2 * retryNanos, LAST_RETRY_NANOS);
        }
        JournalHealth now = new JournalHealth.Failing(words);
        // Said once for each kind of trouble, and not again at each retry.
        boolean isNews = !health.equals(now);
        health = now;
        if (isNews) {
            LOG.log(System.Logger.Level.WARNING, "{0}", words);
        }
    }

    private String setAside(String words, long nowNanos) {
        try {
            String told =
                    words
                            + ". It is kept as "
                            + SetAside.move(settings.file().toAbsolutePath())
                            + ", and a new one is begun";
            notice = Optional.of(new Notice(nowNanos + NOTICE_NANOS));
            retryNotBeforeNanos = nowNanos;
            return told;
        } catch (IOException e) {
            retryNotBeforeNanos = nowNanos + retryNanos;
            retryNanos = Math.min(2 * retryNanos, LAST_RETRY_NANOS);
            return words + ", and can't be renamed: " + e.getMessage();
        }
    }

    /** Before a commit and not after it, so that a journal at its size limit makes room first. */
    private void upkeepWhenDue(JournalFile open, long nowNanos) throws JournalFault {
        if (nowNanos - nextUpkeepNanos < 0) {
            return;
        }
        nextUpkeepNanos = nowNanos + UPKEEP_NANOS;
        Optional<Instant> oldestKept =
                wallClock.isTrusted()
                        ? Optional.of(
                                wallClock.now().minus(Duration.ofDays(settings.retentionDays())))
                        : Optional.empty();
        int removed = open.trim(oldestKept);
        LOG.log(System.Logger.Level.DEBUG, "{0} old records removed", removed);
    }

    private void closeFile() {
        file.ifPresent(JournalFile::close);
        file = Optional.empty();
        generation.incrementAndGet();
    }

    /**
     * Commits what waits, when the disk lets it, and closes the file. Takes at most about two
     * seconds when the journal has a thread of its own, whatever the disk does.
     */
    @Override
    public void close() {
        closing = true;
        Optional<Thread> thread = writer;
        writer = Optional.empty();
        if (thread.isEmpty()) {
            finish();
            return;
        }
        LockSupport.unpark(thread.get());
        try {
            thread.get().join(CLOSE_LIMIT.toMillis());
            if (thread.get().isAlive()) {
                LOG.log(
                        System.Logger.Level.WARNING,
                        "the journal''s disk hangs; its last entries may be lost");
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void finish() {
        drain();
        // There is no later: what failed once is tried again at once.
        for (int tries = 0; tries < LAST_TRIES && !waiting.isEmpty(); tries++) {
            commit(clock.nanos());
        }
        closeFile();
    }

    /** What waits in the queue. */
    private sealed interface Item {}

    private record Tick(CabinetSnapshot snapshot) implements Item {}

    private record Note(Event event) implements Item {}

    private record Notice(long untilNanos) {}

    private record Damage(JournalFault fault, long generation) {}
}
