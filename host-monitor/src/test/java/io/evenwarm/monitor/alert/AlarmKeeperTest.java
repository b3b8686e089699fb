package io.evenwarm.monitor.alert;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.WallClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Limits;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.alarm.AlarmChange;
import io.evenwarm.monitor.alarm.AlarmKey;
import io.evenwarm.monitor.alarm.AlarmSettings;
import io.evenwarm.monitor.alarm.AlarmState;
import io.evenwarm.monitor.alarm.AlarmStatus;
import io.evenwarm.monitor.alarm.DeskState;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.alarm.OperatorAction;
import io.evenwarm.monitor.alarm.Subject;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.live.LiveModel;
import io.evenwarm.monitor.notice.CabinetFacts;
import io.evenwarm.monitor.notice.Contact;
import io.evenwarm.monitor.notice.Delivery;
import io.evenwarm.monitor.notice.MemoryNoticeStore;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeDesk;
import io.evenwarm.monitor.notice.NoticeKind;
import io.evenwarm.monitor.notice.NoticePlan;
import io.evenwarm.monitor.notice.NoticeTime;
import io.evenwarm.monitor.notice.NoticeWriter;
import io.evenwarm.monitor.notice.Outbox;
import io.evenwarm.monitor.notice.OutboxLimits;
import io.evenwarm.monitor.notice.Recipient;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.concurrent.CountDownLatch;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;

/** From what agents send to what people are told, second by second. */
final class AlarmKeeperTest {

    private static final long SECOND = 1_000_000_000L;
    private static final AgentName ROOM = new AgentName("egg room");
    private static final BootId BOOT = new BootId(new UUID(1, 2));
    private static final Tub TUB =
            new Tub(
                    "tub of north",
                    new CabinetKey(ROOM, new CabinetName("north")),
                    "top shelf",
                    900,
                    "eggs",
                    Instant.EPOCH,
                    Optional.empty());
    private static final NoticePlan PLAN =
            new NoticePlan(
                    List.of(
                            new Contact(
                                    new Recipient("anna", Optional.empty()),
                                    List.of("mail"),
                                    Duration.ofMinutes(5),
                                    Optional.empty())),
                    Duration.ofMinutes(30),
                    OutboxLimits.USUAL);

    private final Kept kept = new Kept();
    private final MemoryNoticeStore noticeStore = new MemoryNoticeStore();
    private final Map<String, Double> air = new TreeMap<>();
    private final Map<String, FindingCode> found = new TreeMap<>();
    private final List<Notice> told = new ArrayList<>();
    private final WallClock wall =
            new WallClock() {
                @Override
                public Instant now() {
                    return Instant.parse("2026-03-01T03:00:00Z").plusNanos(nanos);
                }

                @Override
                public boolean isTrusted() {
                    return true;
                }
            };
    private long nanos = 5 * SECOND;
    private LiveModel live = new LiveModel(() -> nanos, List.of(ROOM));
    private Outbox outbox;
    private NoticeDesk desk;
    private AlarmKeeper keeper;

    /** A store that a test can fail. */
    private static final class Kept implements AlarmStore {
        final List<AlarmChange> log = new ArrayList<>();
        Optional<String> state = Optional.empty();
        boolean isFailing;

        /** What is done once something is kept, before anybody is told of it. */
        Runnable then = () -> {};

        @Override
        public void add(List<AlarmChange> others) {
            throw new AssertionError("no keeper adds another desk's changes");
        }

        @Override
        public void keep(List<AlarmChange> changes, DeskState desk) throws IOException {
            if (isFailing) {
                throw new IOException("the disk is full");
            }
            log.addAll(changes);
            state = Optional.of(DeskText.of(desk));
            then.run();
        }

        @Override
        public Optional<DeskState> state() {
            return state.map(text -> DeskText.parse(text).orElseThrow());
        }

        @Override
        public List<LoggedChange> newest(int limit) {
            return List.of();
        }
    }

    AlarmKeeperTest() throws IOException {
        outbox = Outbox.open(noticeStore, PLAN.limits(), 1, new NoticeTime(nanos, wall.now()));
        desk = notices();
        keeper = keeper();
    }

    private NoticeDesk notices() throws IOException {
        return NoticeDesk.open(
                new NoticeWriter(TemperatureUnit.CELSIUS, ZoneOffset.UTC),
                PLAN,
                outbox,
                noticeStore,
                () -> nanos,
                wall);
    }

    private AlarmKeeper keeper() throws IOException {
        return AlarmKeeper.prepare(
                AlarmSettings.DEFAULT,
                new NewtonTimeLeft(NewtonTimeLeft.Assumptions.DEFAULT),
                Set.of(ROOM),
                new AlarmKeeper.Around(live, kept, Optional.of(desk), List::of, () -> List.of(TUB)),
                () -> nanos,
                wall);
    }

    /** Ends the program and starts it again, with a monotonic clock that begins anew. */
    private void restart(int awaySeconds) throws IOException {
        keeper.close();
        startAnew(awaySeconds);
    }

    private void startAnew(int awaySeconds) throws IOException {
        nanos += awaySeconds * SECOND;
        live = new LiveModel(() -> nanos, List.of(ROOM));
        outbox = Outbox.open(noticeStore, PLAN.limits(), 2, new NoticeTime(nanos, wall.now()));
        desk = notices();
        keeper = keeper();
    }

    private void pass(int seconds) {
        for (int i = 0; i < seconds; i++) {
            nanos += SECOND;
            live.linkChanged(ROOM, LiveModel.LinkState.up("connected"));
            air.forEach((name, celsius) -> live.received(ROOM, 1, snapshot(name, celsius)));
            keeper.round();
            desk.step();
            NoticeTime now = new NoticeTime(nanos, wall.now());
            Optional<Outbox.Attempt> attempt = outbox.take("mail", now);
            while (attempt.isPresent()) {
                told.add(attempt.get().notice());
                outbox.done(attempt.get(), new Delivery.Delivered("taken"), now);
                attempt = outbox.take("mail", now);
            }
        }
    }

    private CabinetSnapshot snapshot(String name, double celsius) {
        Temperature value = Temperature.ofCelsius(celsius);
        List<Finding> findings =
                Optional.ofNullable(found.get(name)).stream()
                        .map(
                                code ->
                                        new Finding(
                                                code,
                                                Optional.empty(),
                                                nanos - SECOND,
                                                "evidence",
                                                "heats at full power",
                                                "Look at the fuse."))
                        .toList();
        return new CabinetSnapshot(
                new CabinetName(name),
                nanos / SECOND,
                new Moment(BOOT, nanos, wall.now(), true),
                List.of(
                        new ProbeReading(
                                new ProbeName("top"),
                                ProbePlace.TOP,
                                new Reading.Good(value, nanos)),
                        new ProbeReading(
                                new ProbeName("bottom"),
                                ProbePlace.BOTTOM,
                                new Reading.Good(value, nanos))),
                Optional.of(value),
                Temperature.ofCelsius(31.5),
                Temperature.ofCelsius(31.5),
                new Limits(
                        Temperature.ofCelsius(30.5),
                        Temperature.ofCelsius(32.5),
                        Temperature.ofCelsius(33.5),
                        Temperature.ofCelsius(34.5)),
                new Duty(0.4),
                true,
                Optional.of(true),
                Optional.empty(),
                GuardState.ALLOWING,
                findings,
                false);
    }

    private List<String> toldAs() {
        return told.stream().map(notice -> notice.kind().word()).toList();
    }

    @Test
    void anOrdinaryNightTellsNobodyAnything() {
        air.put("north", 31.5);
        pass(3600);
        assertEquals(List.of(), told);
        assertEquals(List.of(), keeper.alarms());
        assertEquals(List.of(), kept.log);
        assertTrue(kept.state.isPresent(), "the state is kept all the same");
    }

    @Test
    void fiveCabinetsColdByOneMainsCutAreOneNoticeThatListsThem() {
        for (String name : List.of("one", "two", "three", "four", "five")) {
            air.put(name, 26.0);
            found.put(name, FindingCode.MAINS_RETURNED);
        }
        pass(900);
        assertEquals(1, told.stream().map(Notice::eventId).distinct().count(), toldAs().toString());
        assertEquals(NoticeKind.FIRST, told.get(0).kind());
        assertEquals(
                List.of(
                        "egg room / five",
                        "egg room / four",
                        "egg room / one",
                        "egg room / three",
                        "egg room / two"),
                told.get(told.size() - 1).cabinets().stream()
                        .map(facts -> facts.cabinet())
                        .sorted()
                        .toList());
    }

    @Test
    void aNoticeHasWhatAPersonNeedsAtNight() {
        air.put("north", 31.5);
        air.put("south", 31.6);
        pass(700);
        air.put("north", 29.0);
        found.put("north", FindingCode.HEATER_DEAD);
        pass(400);
        assertEquals("first", toldAs().get(0));
        CabinetFacts facts = told.get(0).cabinets().get(0);
        assertEquals("egg room / north", facts.cabinet());
        assertTrue(facts.what().contains("heater dead"), facts.what());
        assertEquals(Optional.of(Temperature.ofCelsius(29.0)), facts.top());
        assertEquals(Optional.of(Temperature.ofCelsius(29.0)), facts.bottom());
        assertTrue(facts.trendKelvinPerHour().orElse(0) < -5, facts.toString());
        assertTrue(facts.timeLeft().isPresent(), facts.toString());
        assertEquals(List.of("tub of north"), facts.tubsAtStake());
        assertEquals(List.of("heats at full power"), facts.agentDid());
        assertEquals("Look at the fuse.", facts.doFirst());
        assertEquals(List.of("egg room / south"), facts.couldGoTo());
    }

    @Test
    void whatWasAcknowledgedIsToldToNobodyAgainNotEvenAfterARestart() throws IOException {
        air.put("north", 29.0);
        found.put("north", FindingCode.HEATER_DEAD);
        pass(400);
        int before = told.size();
        assertTrue(before >= 1);
        for (AlarmStatus alarm : keeper.alarms()) {
            if (alarm.state().awaitsAcknowledgement()) {
                assertEquals(
                        Optional.empty(),
                        keeper.act(new OperatorAction.Acknowledge(alarm.key()), "anna"));
            }
        }
        restart(20);
        pass(1200);
        assertEquals(before, told.size(), toldAs().toString());
        assertTrue(
                keeper.alarms().stream()
                        .anyMatch(alarm -> alarm.state() == AlarmState.ACKNOWLEDGED));
        assertTrue(kept.log.stream().anyMatch(change -> change.who().equals("anna")));
    }

    @Test
    void whoWasToldHearsThatItIsOver() {
        air.put("north", 29.0);
        found.put("north", FindingCode.HEATER_DEAD);
        pass(400);
        air.put("north", 31.5);
        found.clear();
        pass(1500);
        assertEquals(NoticeKind.ALL_CLEAR, told.get(told.size() - 1).kind());
    }

    @Test
    void whatComesBackWithinTheHourIsToldAgainAsAnAnswerToTheFirst() {
        air.put("north", 29.0);
        found.put("north", FindingCode.HEATER_DEAD);
        pass(400);
        air.put("north", 31.5);
        found.clear();
        pass(1500);
        int before = told.size();
        found.put("north", FindingCode.HEATER_DEAD);
        pass(100);
        assertTrue(told.size() > before, "it came back and nobody was told: " + toldAs());
        assertEquals(NoticeKind.FOLLOW_UP, told.get(before).kind());
        assertEquals(told.get(0).firstId(), told.get(before).firstId());
        assertEquals(told.size(), told.stream().map(Notice::id).distinct().count());
    }

    @Test
    void peopleAreToldAlsoWhileTheStoreFailsAndTheLogIsWholeAfterwards() {
        air.put("north", 29.0);
        found.put("north", FindingCode.HEATER_DEAD);
        kept.isFailing = true;
        pass(400);
        assertTrue(!told.isEmpty());
        assertEquals(List.of(), kept.log);
        kept.isFailing = false;
        found.clear();
        air.put("north", 31.5);
        pass(1500);
        List<Long> numbers = kept.log.stream().map(AlarmChange::number).toList();
        assertEquals(LongStream.rangeClosed(1, numbers.size()).boxed().toList(), numbers);
    }

    @Test
    void anAgentThatFallsSilentIsToldWithinAMinute() {
        air.put("north", 31.5);
        pass(120);
        air.clear();
        pass(60);
        assertTrue(!told.isEmpty(), "nobody was told");
        assertTrue(told.get(0).body().contains("silent"), told.get(0).body());
    }

    @Test
    void whatWasKeptWhenTheProgramWasKilledIsToldAfterTheNextStart() throws IOException {
        air.put("north", 31.5);
        pass(5);
        found.put("north", FindingCode.HEATER_DEAD);
        kept.then =
                () -> {
                    throw new IllegalStateException("killed");
                };
        pass(1);
        assertEquals(1, kept.log.size());
        assertEquals(List.of(), told);
        kept.then = () -> {};
        startAnew(20);
        pass(5);
        assertEquals(List.of("first"), toldAs());
        startAnew(20);
        pass(5);
        assertEquals(List.of("first"), toldAs(), "told already");
    }

    @Test
    void whatWasAcknowledgedWhenTheProgramWasKilledIsToldToNobodyMore() throws IOException {
        air.put("north", 31.5);
        found.put("north", FindingCode.HEATER_DEAD);
        pass(5);
        kept.then =
                () -> {
                    throw new IllegalStateException("killed");
                };
        OperatorAction.Acknowledge all =
                new OperatorAction.Acknowledge(keeper.alarms().get(0).key());
        assertThrows(IllegalStateException.class, () -> keeper.act(all, "anna"));
        kept.then = () -> {};
        startAnew(20);
        pass(1000);
        assertEquals(List.of("first"), toldAs());
    }

    @Test
    void anAlarmThatJoinsWhatWasAcknowledgedIsToldToo() {
        air.put("north", 31.5);
        air.put("south", 31.5);
        found.put("north", FindingCode.MAINS_RETURNED);
        pass(60);
        assertEquals(
                Optional.empty(),
                keeper.act(new OperatorAction.Acknowledge(keeper.alarms().get(0).key()), "anna"));
        pass(60);
        assertEquals(1, told.size(), toldAs().toString());
        found.put("south", FindingCode.MAINS_RETURNED);
        pass(60);
        assertEquals(List.of("first", "follow-up"), toldAs());
        assertTrue(told.get(1).body().contains("south"), told.get(1).body());
    }

    @Test
    void whoAsksDoesNotWaitForTheStore() throws InterruptedException {
        CountDownLatch isWriting = new CountDownLatch(1);
        CountDownLatch mayEnd = new CountDownLatch(1);
        kept.then =
                () -> {
                    isWriting.countDown();
                    Waiting.until(20, () -> mayEnd.getCount() == 0, () -> "never ended");
                };
        air.put("north", 31.5);
        found.put("north", FindingCode.HEATER_DEAD);
        Thread slow = new Thread(() -> pass(1));
        slow.start();
        Waiting.until(20, () -> isWriting.getCount() == 0, () -> "never written");
        assertEquals(1, keeper.alarms().size());
        mayEnd.countDown();
        slow.join();
        assertEquals(List.of("first"), toldAs());
    }

    @Test
    void anActionThatIsNotAllowedIsAnsweredWithTheReason() {
        air.put("north", 31.5);
        pass(5);
        CabinetKey north = new CabinetKey(ROOM, new CabinetName("north"));
        Optional<String> why =
                keeper.act(
                        new OperatorAction.Acknowledge(
                                AlarmKey.of(Subject.of(north), FindingCode.TOO_COLD)),
                        "anna");
        assertTrue(why.isPresent());
    }
}
