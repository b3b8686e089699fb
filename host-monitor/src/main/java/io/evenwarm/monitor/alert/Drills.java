package io.evenwarm.monitor.alert;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.WallClock;
import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmKey;
import io.evenwarm.monitor.alarm.AlarmState;
import io.evenwarm.monitor.alarm.AlarmStatus;
import io.evenwarm.monitor.alarm.AlarmWords;
import io.evenwarm.monitor.alarm.Fact;
import io.evenwarm.monitor.alarm.OperatorAction;
import io.evenwarm.monitor.alarm.Subject;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.LiveView;
import java.io.IOException;
import java.lang.System.Logger.Level;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/**
 * Carries out exercises: an alarm that says so, at a cabinet, through all that a real one goes
 * through. One at a time. It ends when somebody acknowledges it, when who asked cancels it, or by
 * itself.
 *
 * <p>A thread of its own looks for them; {@link #facts} waits for nothing.
 */
public final class Drills implements AutoCloseable {

    /** After so long without an acknowledged drill a reminder is due. */
    public static final Duration DUE_AFTER = Duration.ofDays(30);

    /** Who asked has given up by then. */
    private static final Duration TAKEN_UP_MAX = Duration.ofSeconds(60);

    private static final String WHO = "drill";
    private static final long LOOK_MILLIS = 500;
    private static final long END_MILLIS = 2000;
    private static final System.Logger LOG = System.getLogger(Drills.class.getName());

    private static final AlarmWords WORDS =
            new AlarmWords(
                    "This is a drill: somebody asked for it, and nothing is wrong.",
                    "",
                    "Acknowledge this, and nothing else.");

    private final DrillStore store;
    private final AlarmKeeper keeper;
    private final LiveView live;
    private final boolean hasPeople;
    private final MonotonicClock monotonic;
    private final WallClock wall;

    /** What the alarms are told, also of drills that are over. */
    private final Map<AlarmKey, Boolean> holds = new ConcurrentHashMap<>();

    private volatile Optional<Instant> dueSince = Optional.empty();

    /** Used by the thread of the steps only, as all below. */
    private Optional<Running> running = Optional.empty();

    private boolean isBegun;
    private boolean wasFailing;

    private final CountDownLatch ended = new CountDownLatch(1);
    private final Thread thread = new Thread(this::run, "drills");

    private record Running(Drill drill, AlarmKey key, long deadlineNanos, boolean hasOccurred) {}

    /** As {@link #start}, without its thread. */
    Drills(
            DrillStore store,
            AlarmKeeper keeper,
            LiveView live,
            boolean hasPeople,
            MonotonicClock monotonic,
            WallClock wall) {
        this.store = store;
        this.keeper = keeper;
        this.live = live;
        this.hasPeople = hasPeople;
        this.monotonic = monotonic;
        this.wall = wall;
    }

    /**
     * Begins to look for drills that somebody asks for.
     *
     * @param hasPeople whether somebody is to be told at all
     */
    public static Drills start(
            DrillStore store,
            AlarmKeeper keeper,
            LiveView live,
            boolean hasPeople,
            MonotonicClock monotonic,
            WallClock wall) {
        Drills drills = new Drills(store, keeper, live, hasPeople, monotonic, wall);
        drills.thread.setDaemon(true);
        drills.thread.start();
        return drills;
    }

    private void run() {
        try {
            do {
                look();
            } while (!ended.await(LOOK_MILLIS, TimeUnit.MILLISECONDS));
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** What the alarms are to be told. */
    public List<Fact> facts() {
        List<Fact> facts = new ArrayList<>();
        holds.forEach((key, isNow) -> facts.add(new Fact(key, isNow, WORDS)));
        if (hasPeople) {
            boolean isDue =
                    dueSince.map(
                                    since ->
                                            Duration.between(since, wall.now()).compareTo(DUE_AFTER)
                                                    > 0)
                            .orElse(false);
            facts.add(
                    new Fact(
                            AlarmKey.of(Subject.MONITOR, AlarmCodes.DRILL_OVERDUE),
                            isDue,
                            new AlarmWords(
                                    "Nobody has acknowledged a drill for "
                                            + DUE_AFTER.toDays()
                                            + " days.",
                                    "",
                                    "See that notices reach people: evenwarm drill CABINET.")));
        }
        return facts;
    }

    /** One look: what was asked for, and how far the one that runs has come. */
    void look() {
        try {
            if (!isBegun) {
                begin();
            }
            for (Drill drill : store.open()) {
                if (running.isPresent() && running.get().drill().id().equals(drill.id())) {
                    go(running.get(), drill);
                } else if (drill.taken().isPresent()) {
                    end(drill, "the monitor was restarted meanwhile", false);
                } else if (drill.isCancelled()) {
                    end(drill, "cancelled before the monitor took it up", false);
                } else if (running.isEmpty()) {
                    take(drill);
                }
            }
            wasFailing = false;
        } catch (IOException | RuntimeException e) {
            if (!wasFailing) {
                wasFailing = true;
                LOG.log(Level.WARNING, () -> "drills can't be looked for: " + e.getMessage());
            }
            // A store that fails must not make an exercise last.
            running.filter(now -> monotonic.nanos() - now.deadlineNanos() > 0)
                    .ifPresent(now -> holds.put(now.key(), false));
        }
    }

    /** An exercise of a run before this one is over. */
    private void begin() throws IOException {
        keeper.alarms().stream()
                .map(AlarmStatus::key)
                .filter(key -> key.code().equals(AlarmCodes.DRILL))
                .forEach(this::clear);
        dueSince = Optional.of(store.dueSince(wall.now()));
        isBegun = true;
    }

    private void take(Drill drill) throws IOException {
        boolean isKnown =
                live.cabinets().stream().map(LiveCabinet::key).anyMatch(drill.cabinet()::equals);
        Duration age = Duration.between(drill.asked(), wall.now());
        if (!hasPeople) {
            end(drill, "nobody stands in the monitor's settings to be told", false);
        } else if (!isKnown) {
            end(drill, "the monitor has heard nothing of that cabinet", false);
        } else if (age.abs().compareTo(TAKEN_UP_MAX) > 0) {
            end(drill, "no monitor ran when it was asked for", false);
        } else {
            AlarmKey key = AlarmKey.of(Subject.of(drill.cabinet()), AlarmCodes.DRILL);
            store.taken(drill.id(), wall.now());
            running =
                    Optional.of(
                            new Running(
                                    drill,
                                    key,
                                    monotonic.nanos() + drill.limit().toNanos(),
                                    false));
            holds.put(key, true);
            LOG.log(Level.INFO, "a drill of {0} begins", drill.cabinet());
        }
    }

    private void go(Running now, Drill drill) throws IOException {
        Optional<AlarmStatus> alarm =
                keeper.alarms().stream()
                        .filter(status -> status.key().equals(now.key()))
                        .filter(status -> status.delay().isRaised())
                        .findFirst();
        if (alarm.isPresent() && !now.hasOccurred() && alarm.get().event().isPresent()) {
            store.occurred(drill.id(), alarm.get().event().get());
            running = Optional.of(new Running(drill, now.key(), now.deadlineNanos(), true));
        }
        boolean isAnswered =
                alarm.isPresent()
                        && now.hasOccurred()
                        && alarm.get().state() == AlarmState.ACKNOWLEDGED;
        if (isAnswered) {
            finish(now, drill, "acknowledged", true);
        } else if (drill.isCancelled()) {
            finish(now, drill, "cancelled", false);
        } else if (monotonic.nanos() - now.deadlineNanos() > 0) {
            finish(
                    now,
                    drill,
                    "nobody acknowledged it within " + drill.limit().toSeconds() + " s",
                    false);
        }
    }

    private void finish(Running now, Drill drill, String outcome, boolean isAnswered)
            throws IOException {
        // Whatever the store says: first the exercise is over.
        clear(now.key());
        end(drill, outcome, isAnswered);
        running = Optional.empty();
        if (isAnswered) {
            dueSince = Optional.of(wall.now());
        }
    }

    /** An alarm that nobody acknowledged would stay in view. */
    private void clear(AlarmKey key) {
        holds.put(key, false);
        Optional<String> unusedRefusal = keeper.act(new OperatorAction.Acknowledge(key), WHO);
    }

    private void end(Drill drill, String outcome, boolean isAnswered) throws IOException {
        store.ended(drill.id(), wall.now(), outcome, isAnswered);
        LOG.log(Level.INFO, "a drill of {0} ended: {1}", drill.cabinet(), outcome);
    }

    /** One that runs goes on as an alarm until the next start, which ends it. */
    @Override
    public void close() {
        ended.countDown();
        try {
            thread.join(END_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
