package io.evenwarm.monitor.alert;

import io.evenwarm.clock.WallClock;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.alarm.AlarmChange;
import io.evenwarm.monitor.alarm.AlarmSettings;
import io.evenwarm.monitor.alarm.AlarmState;
import io.evenwarm.monitor.alarm.AlarmStatus;
import io.evenwarm.monitor.alarm.DeskState;
import io.evenwarm.monitor.alarm.EventId;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.alarm.OperatorAction;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.live.LiveModel;
import io.evenwarm.monitor.notice.Channel;
import io.evenwarm.monitor.notice.Contact;
import io.evenwarm.monitor.notice.Delivery;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeDesk;
import io.evenwarm.monitor.notice.NoticeKind;
import io.evenwarm.monitor.notice.NoticePlan;
import io.evenwarm.monitor.notice.NoticePriority;
import io.evenwarm.monitor.notice.NoticeTime;
import io.evenwarm.monitor.notice.NoticeWriter;
import io.evenwarm.monitor.notice.Outbox;
import io.evenwarm.monitor.notice.OutboxLimits;
import io.evenwarm.monitor.notice.QuietHours;
import io.evenwarm.monitor.notice.Recipient;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.quantity.TemperatureUnit;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * The monitor's own alarms and notices over a {@link SimulatedHouse}, by its clock: real store,
 * real channels, and one person who answers after some minutes, mends what is broken when its time
 * has come, and then resets what asks for it.
 */
final class SimulatedYear implements AutoCloseable {

    static final Instant BEGIN = Instant.parse("2030-01-01T00:00:00Z");

    private static final long SECOND = 1_000_000_000L;
    private static final int CHUNK_SECONDS = 3600;

    /** From the first delivery of an event's notice to a press on "seen". */
    private static final long ANSWER_SECONDS = 8 * 60;

    /** What may be between two calls of the outside switch before that speaks. */
    static final long SWITCH_SECONDS = 300;

    private static final int IDLE_KEPT_EACH = 20;

    /** How long the machine that the monitor runs on takes to be there again. */
    private static final long MONITOR_BOOT_SECONDS = 60;

    private static final Recipient PERSON =
            new Recipient("keeper", Optional.of("keeper@example.org"));

    /** One delivery that a channel took. */
    record Told(double second, String channel, Notice notice) {}

    /** Keeps in the real store, and what was kept. */
    private static final class Watched implements AlarmStore {
        private final AlarmStore store;
        private final List<AlarmChange> changes;
        private long idle;

        Watched(AlarmStore store, List<AlarmChange> changes) {
            this.store = store;
            this.changes = changes;
        }

        @Override
        public void add(List<AlarmChange> others) {
            throw new AssertionError("no keeper adds another desk's changes");
        }

        @Override
        public void keep(List<AlarmChange> more, DeskState state) throws IOException {
            // Where nothing changed, one in so many is enough: a year has two million of them.
            if (more.isEmpty() && idle++ % IDLE_KEPT_EACH != 0) {
                return;
            }
            store.keep(more, state);
            changes.addAll(more);
        }

        @Override
        public Optional<DeskState> state() throws IOException {
            return store.state();
        }

        @Override
        public List<LoggedChange> newest(int limit) throws IOException {
            return store.newest(limit);
        }
    }

    private final SimulatedHouse house;
    private final Path folder;
    private final List<Channel> channels;
    private final NoticePlan plan;
    private final List<AlarmChange> changes = new ArrayList<>();
    private final List<Told> told = new ArrayList<>();
    private final List<Double> switchSpoke = new ArrayList<>();
    private final Map<EventId, Double> answerAt = new HashMap<>();
    private final double[] coldestEgg = new double[SimulatedHouse.CABINETS];
    private final double[] warmestEgg = new double[SimulatedHouse.CABINETS];
    private final WallClock wall =
            new WallClock() {
                @Override
                public Instant now() {
                    return BEGIN.plusSeconds(second);
                }

                @Override
                public boolean isTrusted() {
                    return true;
                }
            };
    private long second;
    private double lastFeed;
    private boolean hasSwitchSpoken;
    private HistoryStore store;
    private LiveModel live;
    private Outbox outbox;
    private NoticeDesk desk;
    private AlarmKeeper keeper;

    SimulatedYear(SimulatedHouse house, Path folder, List<Channel> channels) throws IOException {
        this.house = house;
        this.folder = folder;
        this.channels = List.copyOf(channels);
        plan =
                new NoticePlan(
                        List.of(
                                new Contact(
                                        PERSON,
                                        channels.stream().map(Channel::name).toList(),
                                        Duration.ofMinutes(10),
                                        Optional.of(
                                                QuietHours.parse(
                                                        "22:00-07:00",
                                                        ZoneOffset.UTC,
                                                        Optional.of(NoticePriority.MEDIUM))))),
                        Duration.ofMinutes(30),
                        OutboxLimits.USUAL);
        Arrays.fill(coldestEgg, Double.POSITIVE_INFINITY);
        Arrays.fill(warmestEgg, Double.NEGATIVE_INFINITY);
        start();
    }

    private long nanos() {
        return second * SECOND;
    }

    private NoticeTime noticeTime() {
        return new NoticeTime(nanos(), wall.now());
    }

    /** The program begins, and goes on where it stood. */
    private void start() throws IOException {
        store = HistoryStore.open(folder);
        live = new LiveModel(this::nanos, List.of(SimulatedHouse.EGG_ROOM, SimulatedHouse.CELLAR));
        outbox = Outbox.open(store.notices(), plan.limits(), 1, noticeTime());
        desk =
                NoticeDesk.open(
                        new NoticeWriter(TemperatureUnit.CELSIUS, ZoneOffset.UTC),
                        plan,
                        outbox,
                        store.notices(),
                        this::nanos,
                        wall);
        keeper =
                AlarmKeeper.prepare(
                        AlarmSettings.DEFAULT,
                        new NewtonTimeLeft(NewtonTimeLeft.Assumptions.DEFAULT),
                        Set.of(SimulatedHouse.EGG_ROOM, SimulatedHouse.CELLAR),
                        new AlarmKeeper.Around(
                                live,
                                new Watched(store.alarms(), changes),
                                Optional.of(desk),
                                List::of,
                                List::of),
                        this::nanos,
                        wall);
    }

    /**
     * Lives through a span.
     *
     * @param days whole
     */
    void live(int days) throws IOException {
        long darkUntil = -1;
        boolean isUp = true;
        for (long at = 0; at < days * 86_400L; at += CHUNK_SECONDS) {
            List<List<Optional<CabinetSnapshot>>> said = house.goOn(CHUNK_SECONDS);
            for (int step = 0; step < CHUNK_SECONDS / SimulatedHouse.STEP_SECONDS; step++) {
                second += SimulatedHouse.STEP_SECONDS;
                if (house.isDark((double) second)) {
                    if (isUp) {
                        // Without a goodbye: what was not kept by now is lost.
                        store.close();
                        isUp = false;
                    }
                    darkUntil = second + MONITOR_BOOT_SECONDS;
                } else if (!isUp && second >= darkUntil) {
                    start();
                    isUp = true;
                }
                if (isUp) {
                    step(said, step);
                }
                watchSwitch(isUp);
            }
            mend();
        }
    }

    private void step(List<List<Optional<CabinetSnapshot>>> said, int step) throws IOException {
        List<CabinetKey> keys = house.keys();
        for (int cabinet = 0; cabinet < keys.size(); cabinet++) {
            Optional<CabinetSnapshot> snapshot = said.get(cabinet).get(step);
            if (snapshot.isPresent()) {
                live.linkChanged(keys.get(cabinet).agent(), LiveModel.LinkState.up("connected"));
                live.received(keys.get(cabinet).agent(), 1, snapshot.get());
            }
        }
        keeper.round();
        desk.step();
        deliver();
        answer();
    }

    private void deliver() {
        for (Channel channel : channels) {
            for (Optional<Outbox.Attempt> attempt = outbox.take(channel.name(), noticeTime());
                    attempt.isPresent();
                    attempt = outbox.take(channel.name(), noticeTime())) {
                Outbox.Attempt one = attempt.get();
                Delivery delivery = channel.deliver(one.notice(), PERSON);
                outbox.done(one, delivery, noticeTime());
                if (delivery instanceof Delivery.Delivered) {
                    told.add(new Told((double) second, channel.name(), one.notice()));
                    eventOf(one.notice())
                            .ifPresent(
                                    event ->
                                            answerAt.putIfAbsent(
                                                    event, (double) second + ANSWER_SECONDS));
                }
            }
        }
    }

    private Optional<EventId> eventOf(Notice notice) {
        return changes.stream()
                .flatMap(change -> change.event().stream())
                .filter(event -> notice.eventId().equals("alarm-" + event))
                .findFirst();
    }

    private void answer() {
        List<EventId> due =
                answerAt.entrySet().stream()
                        .filter(entry -> entry.getValue() <= second)
                        .map(Map.Entry::getKey)
                        .toList();
        for (EventId event : due) {
            answerAt.remove(event);
            // It may be over by now.
            Optional<String> unused =
                    keeper.act(new OperatorAction.AcknowledgeEvent(event), PERSON.person());
        }
    }

    /** Nothing of the house feeds the switch while that is dark. */
    private void watchSwitch(boolean isUp) {
        if (isUp) {
            lastFeed = (double) second;
            hasSwitchSpoken = false;
        } else if (second - lastFeed > SWITCH_SECONDS && !hasSwitchSpoken) {
            hasSwitchSpoken = true;
            switchSpoke.add((double) second);
        }
    }

    /** Once an hour a person looks whether something that is mended by now waits for a reset. */
    private void mend() {
        for (int cabinet = 0; cabinet < SimulatedHouse.CABINETS; cabinet++) {
            coldestEgg[cabinet] = Math.min(coldestEgg[cabinet], house.coldestEggCelsius(cabinet));
            warmestEgg[cabinet] = Math.max(warmestEgg[cabinet], house.warmestEggCelsius(cabinet));
        }
        if (house.isDark((double) second)) {
            return;
        }
        live.cabinets()
                .forEach(
                        cabinet -> {
                            boolean isTripped =
                                    cabinet.snapshot().findings().stream()
                                            .anyMatch(
                                                    finding ->
                                                            finding.code()
                                                                    .equals(
                                                                            FindingCode
                                                                                    .CUT_OFF_TRIPPED));
                            if (isTripped && !isBroken(cabinet.key())) {
                                house.reset(cabinet.key());
                            }
                        });
        for (AlarmStatus alarm : keeper.alarms()) {
            if (alarm.state() == AlarmState.LATCHED_ACKNOWLEDGED) {
                Optional<String> unused =
                        keeper.act(new OperatorAction.Reset(alarm.key()), PERSON.person());
            }
        }
    }

    private boolean isBroken(CabinetKey key) {
        int cabinet = house.keys().indexOf(key);
        return house.troubles().stream()
                .anyMatch(
                        trouble ->
                                trouble.cabinets().contains(cabinet)
                                        && second >= trouble.atSeconds()
                                        && second < trouble.untilSeconds());
    }

    /** All changes of alarms, in order. */
    List<AlarmChange> changes() {
        return changes;
    }

    /** What a channel took, in order. */
    List<Told> told() {
        return told;
    }

    /**
     * The notices by which a person first hears of an event, or hears again of it after its
     * all-clear, each once, with what it was about. What is not pressing waits for the morning: who
     * is woken then, because it got worse, hears of it by an update.
     */
    Map<Notice, Set<FindingCode>> events() {
        Map<Notice, Set<FindingCode>> events = new LinkedHashMap<>();
        Map<String, NoticeKind> last = new HashMap<>();
        for (Told one : told) {
            Notice notice = one.notice();
            NoticeKind before = last.get(notice.eventId());
            boolean isAgain =
                    notice.kind() == NoticeKind.FOLLOW_UP && before == NoticeKind.ALL_CLEAR;
            if (before == null || isAgain) {
                events.computeIfAbsent(notice, this::codesOf);
            }
            last.put(notice.eventId(), notice.kind());
        }
        return events;
    }

    private Set<FindingCode> codesOf(Notice notice) {
        Set<FindingCode> codes = new LinkedHashSet<>();
        for (AlarmChange change : changes) {
            if (change.event().isPresent()
                    && notice.eventId().equals("alarm-" + change.event().get())) {
                codes.add(change.key().code());
            }
        }
        return codes;
    }

    /** When the outside switch spoke, s. */
    List<Double> switchSpoke() {
        return switchSpoke;
    }

    double coldestEggCelsius(int cabinet) {
        return coldestEgg[cabinet];
    }

    double warmestEggCelsius(int cabinet) {
        return warmestEgg[cabinet];
    }

    @Override
    public void close() throws IOException {
        store.close();
    }
}
