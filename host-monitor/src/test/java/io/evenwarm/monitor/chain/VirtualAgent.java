package io.evenwarm.monitor.chain;

import io.evenwarm.agent.journal.Journal;
import io.evenwarm.agent.journal.JournalReader;
import io.evenwarm.agent.journal.JournalSettings;
import io.evenwarm.agent.journal.RunStart;
import io.evenwarm.agent.serve.MonitorServer;
import io.evenwarm.agent.serve.RunState;
import io.evenwarm.agent.serve.ServeContext;
import io.evenwarm.agent.serve.SnapshotBoard;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.clock.TrueTime;
import io.evenwarm.clock.WallClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Limits;
import io.evenwarm.message.Moment;
import io.evenwarm.message.PreviousRun;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.Stream;

/**
 * An agent's journal on disk, true time and sessions on a machine whose clocks the test turns; what
 * its one probe reads tells when it was read.
 */
final class VirtualAgent implements AutoCloseable {

    static final CabinetName CABINET = new CabinetName("north");

    /** Between a machine's boot and its agent's start, on the monotonic clock. */
    private static final long START_NANOS = 3_000_000_000L;

    private static final int MAX_RECORDS = 100_000;
    private static final Limits LIMITS =
            new Limits(celsius(30.5), celsius(32.5), celsius(33.5), celsius(34.5));

    /** What time it really is, by the second. */
    static final class World {
        private final Instant begin;
        private final AtomicLong nanos = new AtomicLong();
        private volatile Duration monitorError = Duration.ZERO;

        World(Instant begin) {
            this.begin = begin;
        }

        Instant now() {
            return begin.plusNanos(nanos.get());
        }

        long nanos() {
            return nanos.get();
        }

        void pass(Duration time) {
            nanos.addAndGet(time.toNanos());
        }

        void monitorClockWrongBy(Duration error) {
            monitorError = error;
        }

        WallClock monitorClock() {
            return new WallClock() {
                @Override
                public Instant now() {
                    return World.this.now().plus(monitorError);
                }

                @Override
                public boolean isTrusted() {
                    return true;
                }
            };
        }
    }

    /** One run, from a boot of the machine to the next power cut. */
    private final class Run implements RunState, AutoCloseable {
        private final BootId boot;
        private final MonotonicClock clock;
        private final TrueTime time;
        private final Journal journal;
        private final SnapshotBoard board = new SnapshotBoard(List.of(CABINET));
        private final MemoryPort port = new MemoryPort();
        private final MemoryPort line = new MemoryPort();
        private final MonitorServer server;
        private final AtomicBoolean wasTold = new AtomicBoolean();
        private volatile Duration error;
        private volatile boolean isClockSet;
        private volatile boolean isLine;
        private long tick;

        Run(int number, Duration error) {
            this.boot = new BootId(new UUID(5, number));
            this.error = error;
            long zero = world.nanos() - START_NANOS;
            starts.put(boot, world.begin.plusNanos(zero));
            this.clock = () -> world.nanos() - zero;
            this.time =
                    new TrueTime(
                            clock,
                            new WallClock() {
                                @Override
                                public Instant now() {
                                    return world.now().plus(Run.this.error);
                                }

                                @Override
                                public boolean isTrusted() {
                                    return isClockSet;
                                }
                            });
            this.journal =
                    new Journal(
                            JournalSettings.defaults(folder.resolve("journal.sqlite")),
                            clock,
                            time);
            journal.agentStarted(
                    moment(),
                    "agent started",
                    new RunStart(Optional.of("machine boot " + number), Optional.empty()));
            journal.step(clock.nanos());
            board.published(snapshot());
            this.server =
                    new MonitorServer(
                            new ServeContext(
                                    name,
                                    "test",
                                    1,
                                    this::moment,
                                    board,
                                    journal,
                                    (command, answer) -> {},
                                    SystemClock.monotonic(),
                                    List::of,
                                    this));
            server.listen("memory", () -> port.listener(), MonitorServer.MAX_MONITORS);
            server.serveLine("line", line.listener()::accept);
        }

        private Moment moment() {
            boolean isTrusted = time.isTrusted();
            return new Moment(boot, clock.nanos(), time.now(), isTrusted);
        }

        private CabinetSnapshot snapshot() {
            Temperature read = value(world.now());
            return new CabinetSnapshot(
                    CABINET,
                    ++tick,
                    moment(),
                    List.of(
                            new ProbeReading(
                                    new ProbeName("top"),
                                    ProbePlace.TOP,
                                    new Reading.Good(read, clock.nanos()))),
                    Optional.of(read),
                    celsius(31.5),
                    celsius(31.5),
                    LIMITS,
                    new Duty(0.25),
                    false,
                    Optional.empty(),
                    Optional.empty(),
                    GuardState.ALLOWING,
                    List.of(),
                    false);
        }

        void second() {
            world.pass(Duration.ofSeconds(1));
            time.look();
            CabinetSnapshot snapshot = snapshot();
            board.published(snapshot);
            journal.published(snapshot);
            journal.step(clock.nanos());
        }

        @Override
        public Optional<PreviousRun> previousRun() {
            return journal.previousRun();
        }

        @Override
        public Optional<String> clockWords() {
            return Optional.of(time.words());
        }

        @Override
        public void timeTold(String by, Instant wall, long askedAtNanos) {
            time.tell(by, wall, askedAtNanos, journal.lastTrustedBefore());
            wasTold.set(true);
        }

        @Override
        public void close() {
            port.cut();
            line.cut();
            server.close();
            port.listener().close();
            line.listener().close();
            journal.close();
        }
    }

    private final Path machine;
    private final AgentName name;
    private final World world;
    private final Map<BootId, Instant> starts = new HashMap<>();
    private int disks;
    private Path folder;
    private Optional<Run> run = Optional.empty();

    VirtualAgent(Path machine, AgentName name, World world) throws IOException {
        this.machine = machine;
        this.name = name;
        this.world = world;
        this.folder = Files.createDirectories(machine.resolve("0"));
    }

    private static Temperature celsius(double value) {
        return Temperature.ofCelsius(value);
    }

    /** What is read at a time: in a sixteenth of a degree, and hardly twice within two minutes. */
    static Temperature value(Instant time) {
        return celsius(25 + time.getEpochSecond() % 127 / 16.0);
    }

    private Run run() {
        return run.orElseThrow();
    }

    /** The machine boots, with a wall clock that is wrong by so much and that nobody has set. */
    void boots(int number, Duration error) {
        run = Optional.of(new Run(number, error));
    }

    void clockSetByTimeService() {
        run().error = Duration.ZERO;
        run().isClockSet = true;
        run().time.look();
    }

    boolean isClockTrusted() {
        return run().time.isTrusted();
    }

    boolean wasToldATime() {
        return run().wasTold.get();
    }

    void seconds(int count) {
        for (int i = 0; i < count; i++) {
            run().second();
        }
    }

    /** What waits in memory is lost; what was synced is on the disk of the next boot. */
    void powerFails() throws IOException {
        disks++;
        Path next = Files.createDirectories(machine.resolve(Integer.toString(disks)));
        try (Stream<Path> files = Files.list(folder)) {
            for (Path each : files.toList()) {
                if (!each.toString().endsWith("-shm")) {
                    Files.copy(each, next.resolve(each.getFileName()));
                }
            }
        }
        run().close();
        run = Optional.empty();
        folder = next;
    }

    /** From now on monitors come over a line, where nobody who signs nothing may operate. */
    void lookOnly() {
        run().isLine = true;
    }

    MemoryPort port() {
        return run().isLine ? run().line : run().port;
    }

    Journal journal() {
        return run().journal;
    }

    /** When each reading that the journal holds was made, by the world's time. */
    List<Instant> keptReadings() throws IOException {
        List<Instant> kept = new ArrayList<>();
        try (JournalReader reader = journal().openReader()) {
            long last = 0;
            while (last < journal().lastCommittedSequence()) {
                for (JournalRecord each : reader.after(last, MAX_RECORDS).records()) {
                    last = each.sequence();
                    if (each instanceof JournalRecord.Readings) {
                        Moment moment = each.moment();
                        Instant zero = Objects.requireNonNull(starts.get(moment.boot()));
                        kept.add(zero.plusNanos(moment.monotonicNanos()));
                    }
                }
            }
        }
        return kept;
    }

    /** Seconds until the readings that wait are committed. */
    void commits() {
        long before = journal().lastCommittedSequence();
        while (journal().lastCommittedSequence() == before) {
            run().second();
        }
    }

    @Override
    public void close() {
        run.ifPresent(Run::close);
    }
}
