package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.link.KeyPin;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.FoundByHand;
import io.evenwarm.monitor.notice.channel.KillablePost;
import io.evenwarm.monitor.notice.channel.NeedsMosquitto;
import io.evenwarm.testing.Programs;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/**
 * The built monitor, a mail server and a broker are killed again and again at random moments while
 * agents find one thing after the other, and somebody acknowledges half of it by the links in the
 * mails. {@code -Dflood.kills=200} for all of it, {@code -Dflood.seed} for other moments.
 */
@Tag("long")
@NeedsMosquitto
@Execution(ExecutionMode.CONCURRENT)
final class KilledFloodIT {

    private static final int KILLS = Integer.getInteger("flood.kills", 12);
    private static final long SEED = Long.getLong("flood.seed", 6);
    private static final int AGENTS = 30;
    private static final int CABINETS_OF_EACH = 3;

    /** None explains another, so that each is an event of its own. */
    private static final List<FindingCode> CODES =
            List.of(
                    FindingCode.DOOR_OPEN,
                    FindingCode.PROBE_FROZEN,
                    FindingCode.RELAY_CHATTER,
                    FindingCode.HEATER_STUCK_ON,
                    FindingCode.PROBE_DRIFTING,
                    FindingCode.STATE_NOT_SAVED,
                    FindingCode.CUT_OFF_RELAY_STUCK,
                    FindingCode.PROBE_NOISY);

    /** A little longer than a monitor that was killed takes to look again. */
    private static final int FOUND_SECONDS_MIN = 40;

    private static final int FOUND_SECONDS_MAX = 80;

    private static final int FIRST_SECONDS_MAX = 25;

    /** The monitor's off-delay of what agents find is 60 s. */
    private static final int PAUSE_SECONDS = 70;

    private static final double KILL_EVERY_SECONDS_MAX = 9;
    private static final int QUIET_SECONDS_MAX = 900;

    private final MonotonicClock clock = SystemClock.monotonic();
    private final SplittableRandom random = new SplittableRandom(SEED);
    private final Path folder;
    private final Programs programs;
    private final FloodRecord record = new FloodRecord();
    private final List<Course> courses = new ArrayList<>();
    private @Nullable Process monitor;

    KilledFloodIT(@TempDir Path folder) {
        this.folder = folder;
        programs = new Programs(folder);
    }

    @AfterEach
    void endAll() {
        programs.close();
    }

    /** What one agent finds, one thing after the other. */
    private final class Course {
        private final FoundByHand agent;
        private final SplittableRandom own = random.split();
        private int number;
        private boolean isFound;
        private long nextNanos;

        Course(FoundByHand agent, int index) {
            this.agent = agent;
            number = index;
            nextNanos = later(0, FIRST_SECONDS_MAX);
        }

        private long later(int secondsMin, int secondsMax) {
            return clock.nanos()
                    + TimeUnit.MILLISECONDS.toNanos(
                            own.nextInt(secondsMin * 1000, secondsMax * 1000));
        }

        private CabinetName cabinet() {
            return agent.cabinets().get(number % CABINETS_OF_EACH);
        }

        private FindingCode code() {
            return CODES.get(number % CODES.size());
        }

        void step(boolean isOver) {
            // Also at the end: what is withdrawn at once may never have been seen.
            if (clock.nanos() < nextNanos) {
                return;
            }
            if (isFound) {
                agent.clear(cabinet());
                record.gone(cabinet(), code());
                isFound = false;
                number++;
                nextNanos = later(PAUSE_SECONDS, PAUSE_SECONDS + FOUND_SECONDS_MIN);
            } else if (!isOver) {
                record.found(cabinet(), code());
                agent.find(cabinet(), code());
                isFound = true;
                nextNanos = later(FOUND_SECONDS_MIN, FOUND_SECONDS_MAX);
            }
        }
    }

    private Path settings() {
        return folder.resolve("monitor.toml");
    }

    private void startMonitor() throws IOException {
        monitor =
                programs.start(
                        "monitor",
                        Programs.MONITOR.toString(),
                        "watch",
                        "--every",
                        "3600",
                        "--settings",
                        settings().toString());
    }

    @Test
    void everyAlarmIsToldWhateverIsKilledAndNoneThatWasAcknowledgedIsToldAgain() throws Exception {
        try (KillablePost post = new KillablePost(folder.resolve("post"))) {
            KeyPin key = programs.monitorKey(settings());
            StringBuilder agents = new StringBuilder();
            List<FoundByHand> there = new ArrayList<>();
            for (int i = 0; i < AGENTS; i++) {
                FoundByHand agent = new FoundByHand("agent" + i, CABINETS_OF_EACH, key);
                there.add(agent);
                agents.append(agent.settings());
                courses.add(new Course(agent, i));
            }
            int pagePort = Programs.freePort();
            Files.writeString(
                    settings(),
                    """
                    [monitor]
                    data_folder = "data"
                    [page]
                    listen = "127.0.0.1:%d"
                    address = "https://127.0.0.1:%d"
                    """
                                    .formatted(pagePort, pagePort)
                            + post.settings()
                            + agents);
            startMonitor();
            long begin = clock.nanos();
            try (FloodReader reader = new FloodReader(post, record, SEED)) {
                int[] kills = flood(post);
                double minutes = (clock.nanos() - begin) / 6e10;
                FloodStore store = new FloodStore(folder.resolve("data"));
                Waiting.until(
                        QUIET_SECONDS_MAX,
                        () -> isOver() && store.isQuiet(),
                        () -> "still to be delivered: " + store.pending());
                reader.stop();
                FloodRecord.Result result = record.check(store, post);
                System.out.printf(
                        Locale.ROOT,
                        "killed in %.1f min (seed %d): the monitor %d times, the mail server %d,"
                                + " the broker %d%n%s%n",
                        minutes,
                        SEED,
                        kills[0],
                        kills[1],
                        kills[2],
                        result.words());
                assertEquals(List.of(), result.missed());
                assertEquals(List.of(), result.again());
                assertTrue(result.annunciations() > KILLS, result.words());
                assertTrue(result.acknowledged() > KILLS / 4, result.words());
            } finally {
                there.forEach(FoundByHand::close);
            }
        }
    }

    private boolean isOver() {
        courses.forEach(course -> course.step(true));
        return true;
    }

    private int[] flood(KillablePost post) throws Exception {
        int[] kills = new int[3];
        for (int i = 0; i < KILLS; i++) {
            long until = clock.nanos() + (long) (random.nextDouble(KILL_EVERY_SECONDS_MAX) * 1e9);
            while (clock.nanos() < until) {
                courses.forEach(course -> course.step(false));
                TimeUnit.MILLISECONDS.sleep(20);
            }
            int which = random.nextInt(3);
            kills[which]++;
            switch (which) {
                case 0 -> {
                    Process running = monitor;
                    assertTrue(running != null && running.isAlive(), programs.said("monitor"));
                    Programs.kill(running);
                    startMonitor();
                }
                case 1 -> {
                    post.killMail();
                    post.startMail();
                }
                default -> {
                    post.killBroker();
                    post.startBroker();
                }
            }
        }
        return kills;
    }
}
