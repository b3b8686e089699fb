package io.evenwarm.monitor.alert;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.WallClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.alarm.ActionOutcome;
import io.evenwarm.monitor.alarm.AlarmChange;
import io.evenwarm.monitor.alarm.AlarmDesk;
import io.evenwarm.monitor.alarm.AlarmKey;
import io.evenwarm.monitor.alarm.AlarmSettings;
import io.evenwarm.monitor.alarm.AlarmStatus;
import io.evenwarm.monitor.alarm.DeskState;
import io.evenwarm.monitor.alarm.EventId;
import io.evenwarm.monitor.alarm.Fact;
import io.evenwarm.monitor.alarm.Now;
import io.evenwarm.monitor.alarm.OperatorAction;
import io.evenwarm.monitor.alarm.TimeLeft;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.LiveView;
import io.evenwarm.monitor.live.Liveness;
import io.evenwarm.monitor.notice.NoticeDesk;
import java.io.IOException;
import java.lang.System.Logger.Level;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.function.Supplier;

/**
 * Runs the alarm desk: a few times a second it looks at what is live, keeps what changed, and only
 * then tells the notices. What a store does not take now is kept with the next change; people are
 * told all the same. What was kept but not told, since the program was killed in between, is told
 * after the next start.
 *
 * <p>Any thread may ask and act; nothing here waits for a channel. Who asks does not wait for the
 * store either; who acts does, so that what is called done is kept.
 */
public final class AlarmKeeper implements AutoCloseable {

    private static final System.Logger LOG = System.getLogger(AlarmKeeper.class.getName());

    /** Agents tell once a second; a look in between costs little, and people are told sooner. */
    private static final long ROUND_MILLIS = 250;

    /** Before an event's number, in notices. */
    private static final String EVENT_PREFIX = "alarm-";

    private static final long END_MILLIS = 3000;

    /**
     * The desk's delays and silences are kept so often when nothing changes; and so late a store
     * that takes nothing any more is noticed.
     */
    private static final long KEEP_NANOS = 15_000_000_000L;

    /**
     * Changes that wait for a store that takes none; older ones then go to the program's log only.
     */
    private static final int WAITING_MAX = 10_000;

    private final LiveView live;
    private final AlarmStore store;
    private final Supplier<List<Fact>> facts;
    private final MonotonicClock monotonic;
    private final WallClock wall;

    /** Held for moments only. Whoever needs both takes {@link #passingOn} first. */
    private final Object lock = new Object();

    /** Guarded by {@link #lock}, as the next two. */
    private final AlarmDesk desk;

    private final Map<CabinetKey, Long> seenTicks = new HashMap<>();

    /** Made, but not passed on yet. */
    private final List<AlarmChange> made = new ArrayList<>();

    /** Held while the store writes, so that changes are kept and told in their order. */
    private final Object passingOn = new Object();

    /** Guarded by {@link #passingOn}, as all below. */
    private final List<AlarmChange> waiting = new ArrayList<>();

    private final EventTeller teller;
    private boolean isAllTold;
    private long keptNanos;
    private String lastTrouble = "";

    /** When a round last ended well. */
    private volatile long roundNanos;

    private volatile Consumer<AlarmChange> listener = change -> {};

    private final CountDownLatch ended = new CountDownLatch(1);
    private final Thread thread = new Thread(this::run, "alarms");

    /**
     * What alarms are made from and where they go.
     *
     * @param live what agents send
     * @param store keeps log and state
     * @param notices who tells people; empty when nobody stands in the settings
     * @param facts what only others know, asked each second; must not wait
     * @param tubs those that stand somewhere now; asked once a round
     */
    public record Around(
            LiveView live,
            AlarmStore store,
            Optional<NoticeDesk> notices,
            Supplier<List<Fact>> facts,
            Supplier<List<Tub>> tubs) {}

    private AlarmKeeper(Around around, AlarmDesk desk, MonotonicClock monotonic, WallClock wall) {
        this.live = around.live();
        this.store = around.store();
        this.facts = around.facts();
        this.desk = desk;
        this.teller =
                new EventTeller(
                        around.notices(),
                        around.tubs(),
                        key -> timeLeft(key).map(TimeLeft.Estimate::assumptions));
        this.monotonic = monotonic;
        this.wall = wall;
        this.keptNanos = monotonic.nanos();
        this.roundNanos = monotonic.nanos();
    }

    /**
     * Goes on where the last run stood.
     *
     * @param agents every agent of the settings
     * @throws IOException when the store can't be read
     */
    public static AlarmKeeper start(
            AlarmSettings settings,
            TimeLeft timeLeft,
            Set<AgentName> agents,
            Around around,
            MonotonicClock monotonic,
            WallClock wall)
            throws IOException {
        AlarmKeeper keeper = prepare(settings, timeLeft, agents, around, monotonic, wall);
        keeper.thread.setDaemon(true);
        keeper.thread.start();
        return keeper;
    }

    /** As {@link #start}, without its thread. */
    static AlarmKeeper prepare(
            AlarmSettings settings,
            TimeLeft timeLeft,
            Set<AgentName> agents,
            Around around,
            MonotonicClock monotonic,
            WallClock wall)
            throws IOException {
        Now now = new Now(wall.now(), monotonic.nanos());
        AlarmDesk desk =
                around.store()
                        .state()
                        .map(state -> AlarmDesk.restore(settings, timeLeft, agents, state, now))
                        .orElseGet(() -> AlarmDesk.begin(settings, timeLeft, agents, now));
        return new AlarmKeeper(around, desk, monotonic, wall);
    }

    private void run() {
        try {
            do {
                round();
            } while (!ended.await(ROUND_MILLIS, TimeUnit.MILLISECONDS));
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** One look. */
    void round() {
        try {
            List<LiveCabinet> cabinets = live.cabinets();
            synchronized (lock) {
                Now now = now();
                for (LiveCabinet cabinet : cabinets) {
                    if (isNew(cabinet)) {
                        take(desk.received(cabinet.key().agent(), cabinet.snapshot(), now));
                    }
                }
                for (Fact fact : facts.get()) {
                    take(desk.told(fact, now));
                }
                take(desk.tick(now));
            }
            synchronized (passingOn) {
                teller.see(cabinets, now());
                passOn();
            }
            roundNanos = monotonic.nanos();
        } catch (RuntimeException e) {
            // The next round must come all the same.
            LOG.log(Level.ERROR, "the alarms failed for this look", e);
        }
    }

    private boolean isNew(LiveCabinet cabinet) {
        if (cabinet.liveness() == Liveness.LOST) {
            return false;
        }
        Long tick = cabinet.snapshot().tick();
        return !tick.equals(seenTicks.put(cabinet.key(), tick));
    }

    private Now now() {
        return new Now(wall.now(), monotonic.nanos());
    }

    /** Call it with {@link #lock} held. */
    private void take(List<AlarmChange> changes) {
        changes.forEach(AlarmKeeper::log);
        changes.forEach(listener);
        made.addAll(changes);
    }

    /** Keeps what was made since, and then tells people. */
    private void passOn() {
        synchronized (passingOn) {
            Now now = now();
            List<AlarmChange> changes;
            Map<EventId, List<AlarmStatus>> events = new TreeMap<>();
            Optional<DeskState> state = Optional.empty();
            synchronized (lock) {
                changes = List.copyOf(made);
                made.clear();
                for (AlarmChange change : changes) {
                    change.event()
                            .ifPresent(event -> events.computeIfAbsent(event, desk::firstOut));
                }
                if (!changes.isEmpty() || now.nanos() - keptNanos >= KEEP_NANOS) {
                    state = Optional.of(desk.state(now));
                }
            }
            waiting.addAll(changes);
            state.ifPresent(there -> keep(there, now));
            boolean wasAllTold = isAllTold;
            isAllTold = false;
            if (wasAllTold) {
                teller.tell(changes, events, now);
            } else {
                // After a start, or where the last time ended in the middle.
                teller.catchUp(alarms(), now);
            }
            isAllTold = true;
        }
    }

    private static void log(AlarmChange change) {
        // Window and terminal show it by themselves: whoever wants it a second time asks for it.
        LOG.log(
                Level.INFO,
                "alarm {0} {1}: {2}, by {3}: {4}",
                change.key().subject(),
                change.key().trouble(),
                change.to().words(),
                change.who(),
                change.why());
    }

    private void keep(DeskState state, Now now) {
        try {
            store.keep(waiting, state);
            waiting.clear();
            keptNanos = now.nanos();
            said("");
        } catch (IOException e) {
            said("alarm log and state can't be kept: " + e.getMessage());
            while (waiting.size() > WAITING_MAX) {
                waiting.remove(0);
            }
        }
    }

    private void said(String trouble) {
        if (!trouble.equals(lastTrouble)) {
            lastTrouble = trouble;
            LOG.log(
                    Level.WARNING,
                    trouble.isEmpty() ? "alarm log and state are kept again" : trouble);
        }
    }

    /** For how long no round has ended well; about a second when all is well. Waits for nothing. */
    public Duration sinceRound() {
        return Duration.ofNanos(monotonic.nanos() - roundNanos);
    }

    /**
     * Tells of every change from now on, in place of whoever was told before.
     *
     * @param listener called by whatever thread makes the change; must not wait or throw
     */
    public void onChange(Consumer<AlarmChange> listener) {
        this.listener = listener;
    }

    /** The alarms that are not at rest. */
    public List<AlarmStatus> alarms() {
        synchronized (lock) {
            return desk.alarms();
        }
    }

    /** How long a cabinet's eggs had at its newest snapshot; empty before the first. */
    public Optional<TimeLeft.Estimate> timeLeft(CabinetKey key) {
        synchronized (lock) {
            return desk.timeLeft(key);
        }
    }

    /** What explains each alarm that is suppressed by design, in words. */
    Map<AlarmKey, String> explanations() {
        synchronized (lock) {
            return desk.explanations(now());
        }
    }

    /** The moment by which the alarms' monotonic times are to be read. */
    public Now moment() {
        return now();
    }

    /**
     * A person does something about alarms.
     *
     * @return why not, in words; empty when it counts
     */
    public Optional<String> act(OperatorAction action, String who) {
        ActionOutcome outcome;
        synchronized (lock) {
            outcome = desk.act(action, who, now());
            outcome.fold(
                    done -> {
                        take(done.changes());
                        return true;
                    },
                    refused -> false);
        }
        return outcome.fold(
                done -> {
                    passOn();
                    return Optional.empty();
                },
                refused -> Optional.of(refused.why()));
    }

    /** The id of an event in notices. */
    public static String noticeEvent(EventId event) {
        return EVENT_PREFIX + event;
    }

    /** Whether it is an event of alarms, by its id in notices. */
    static boolean isAlarmsEvent(String noticeEvent) {
        return noticeEvent.matches(EVENT_PREFIX + "[1-9]\\d{0,17}");
    }

    /**
     * A person acknowledges what a notice was about, as a whole.
     *
     * @param noticeEvent the event's id in notices
     * @return why not, in words; empty when it counts
     */
    public Optional<String> acknowledge(String noticeEvent, String who) {
        if (!isAlarmsEvent(noticeEvent)) {
            return Optional.of("event " + noticeEvent + " is no alarm's");
        }
        long number = Long.parseLong(noticeEvent.substring(EVENT_PREFIX.length()));
        return act(new OperatorAction.AcknowledgeEvent(new EventId(number)), who);
    }

    /** Keeps where it stands, and ends. */
    @Override
    public void close() {
        ended.countDown();
        try {
            thread.join(END_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        synchronized (passingOn) {
            passOn();
            Now now = now();
            DeskState state;
            synchronized (lock) {
                state = desk.state(now);
            }
            keep(state, now);
        }
    }
}
