package io.evenwarm.monitor.alert;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.WallClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.alarm.ActionOutcome;
import io.evenwarm.monitor.alarm.AlarmChange;
import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmDesk;
import io.evenwarm.monitor.alarm.AlarmSettings;
import io.evenwarm.monitor.alarm.AlarmStatus;
import io.evenwarm.monitor.alarm.EventId;
import io.evenwarm.monitor.alarm.Fact;
import io.evenwarm.monitor.alarm.Now;
import io.evenwarm.monitor.alarm.OperatorAction;
import io.evenwarm.monitor.alarm.Priority;
import io.evenwarm.monitor.alarm.TimeLeft;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.LiveView;
import io.evenwarm.monitor.live.Liveness;
import io.evenwarm.monitor.notice.NoticeDesk;
import io.evenwarm.monitor.notice.NoticePriority;
import java.io.IOException;
import java.lang.System.Logger.Level;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.function.Supplier;

/**
 * Runs the alarm desk: once a second it looks at what is live, keeps what changed, and only then
 * tells the notices. What a store does not take now is kept with the next change; people are told
 * all the same.
 *
 * <p>Any thread may ask and act; nothing here waits for a channel.
 */
public final class AlarmKeeper implements AutoCloseable {

    private static final System.Logger LOG = System.getLogger(AlarmKeeper.class.getName());
    private static final long ROUND_MILLIS = 1000;

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
    private final Optional<NoticeDesk> notices;
    private final Supplier<List<Fact>> facts;
    private final MonotonicClock monotonic;
    private final WallClock wall;
    private final Object lock = new Object();

    /** Guarded by {@link #lock}, as all below. */
    private final AlarmDesk desk;

    private final EventFacts eventFacts;
    private final Map<CabinetKey, Long> seenTicks = new HashMap<>();
    private final List<AlarmChange> waiting = new ArrayList<>();
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
     * @param tubs those that stand somewhere now; asked once a notice
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
        this.notices = around.notices();
        this.facts = around.facts();
        this.eventFacts = new EventFacts(around.tubs());
        this.desk = desk;
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

    /** One second's work. */
    void round() {
        try {
            synchronized (lock) {
                Now now = now();
                List<LiveCabinet> cabinets = live.cabinets();
                eventFacts.see(cabinets, now);
                List<AlarmChange> changes = new ArrayList<>();
                for (LiveCabinet cabinet : cabinets) {
                    if (isNew(cabinet)) {
                        changes.addAll(
                                desk.received(cabinet.key().agent(), cabinet.snapshot(), now));
                    }
                }
                for (Fact fact : facts.get()) {
                    changes.addAll(desk.told(fact, now));
                }
                changes.addAll(desk.tick(now));
                take(changes, now);
            }
            roundNanos = monotonic.nanos();
        } catch (RuntimeException e) {
            // The next round must come all the same.
            LOG.log(Level.ERROR, "the alarms failed for this second", e);
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

    private void take(List<AlarmChange> changes, Now now) {
        changes.forEach(AlarmKeeper::log);
        changes.forEach(listener);
        waiting.addAll(changes);
        if (!changes.isEmpty() || now.nanos() - keptNanos >= KEEP_NANOS) {
            keep(now);
        }
        tell(changes, now);
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

    private void keep(Now now) {
        try {
            store.keep(waiting, desk.state(now));
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

    /** One event makes one notice and its follow-ups, whatever number of alarms it has. */
    private void tell(List<AlarmChange> changes, Now now) {
        if (notices.isEmpty()) {
            return;
        }
        Set<EventId> touched = new TreeSet<>();
        Set<EventId> annunciated = new TreeSet<>();
        for (AlarmChange change : changes) {
            change.event().ifPresent(touched::add);
            if (change.isAnnunciation()) {
                change.event().ifPresent(annunciated::add);
            }
        }
        for (EventId event : touched) {
            List<AlarmStatus> alarms = desk.firstOut(event);
            List<AlarmStatus> raised =
                    alarms.stream().filter(alarm -> alarm.delay().isRaised()).toList();
            String id = noticeEvent(event);
            if (raised.isEmpty()) {
                List<AlarmChange> last =
                        changes.stream()
                                .filter(change -> change.event().equals(Optional.of(event)))
                                .toList();
                notices.get().clear(id, eventFacts.over(last));
            } else if (annunciated.contains(event)) {
                boolean isDrill =
                        raised.stream()
                                .allMatch(alarm -> alarm.key().code().equals(AlarmCodes.DRILL));
                notices.get().report(id, priority(raised), eventFacts.of(raised, now), isDrill);
            } else if (alarms.stream().noneMatch(alarm -> alarm.state().awaitsAcknowledgement())) {
                notices.get().acknowledge(id);
            }
        }
    }

    private static NoticePriority priority(List<AlarmStatus> alarms) {
        Priority most =
                alarms.stream()
                        .map(AlarmStatus::priority)
                        .max(Priority::compareTo)
                        .orElse(Priority.LOW);
        return switch (most) {
            case LOW -> NoticePriority.LOW;
            case MEDIUM -> NoticePriority.MEDIUM;
            case HIGH -> NoticePriority.HIGH;
        };
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
        synchronized (lock) {
            Now now = now();
            ActionOutcome outcome = desk.act(action, who, now);
            return outcome.fold(
                    done -> {
                        take(done.changes(), now);
                        return Optional.empty();
                    },
                    refused -> Optional.of(refused.why()));
        }
    }

    /** The id of an event in notices. */
    public static String noticeEvent(EventId event) {
        return EVENT_PREFIX + event;
    }

    /**
     * A person acknowledges what a notice was about, as a whole.
     *
     * @param noticeEvent the event's id in notices
     * @return why not, in words; empty when it counts
     */
    public Optional<String> acknowledge(String noticeEvent, String who) {
        if (!noticeEvent.matches(EVENT_PREFIX + "[1-9]\\d{0,17}")) {
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
        synchronized (lock) {
            keep(now());
        }
    }
}
