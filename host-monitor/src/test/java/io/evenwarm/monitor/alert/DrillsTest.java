package io.evenwarm.monitor.alert;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
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
import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmKey;
import io.evenwarm.monitor.alarm.AlarmSettings;
import io.evenwarm.monitor.alarm.EventId;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.alarm.OperatorAction;
import io.evenwarm.monitor.alarm.Subject;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.live.LiveModel;
import io.evenwarm.monitor.notice.Contact;
import io.evenwarm.monitor.notice.Delivery;
import io.evenwarm.monitor.notice.MemoryNoticeStore;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeDesk;
import io.evenwarm.monitor.notice.NoticePlan;
import io.evenwarm.monitor.notice.NoticeTime;
import io.evenwarm.monitor.notice.NoticeWriter;
import io.evenwarm.monitor.notice.Outbox;
import io.evenwarm.monitor.notice.OutboxLimits;
import io.evenwarm.monitor.notice.Recipient;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.store.StoreFile;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Exercises go the way of alarms, say that they are none, and stand in no alarm's way. */
final class DrillsTest {

    private static final long SECOND = 1_000_000_000L;
    private static final AgentName ROOM = new AgentName("egg room");
    private static final CabinetKey NORTH = new CabinetKey(ROOM, new CabinetName("north"));
    private static final AlarmKey DRILL = AlarmKey.of(Subject.of(NORTH), AlarmCodes.DRILL);
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

    private final MemoryNoticeStore noticeStore = new MemoryNoticeStore();
    private final HistoryStore store;
    private final StoreFile outside;
    private final List<Notice> told = new ArrayList<>();
    private Optional<Drills> drills = Optional.empty();
    private Instant wallBegin = Instant.parse("2026-03-01T03:00:00Z");
    private final WallClock wall =
            new WallClock() {
                @Override
                public Instant now() {
                    return wallBegin.plusNanos(nanos);
                }

                @Override
                public boolean isTrusted() {
                    return true;
                }
            };
    private long nanos = 5 * SECOND;
    private boolean isHeaterDead;
    private final LiveModel live = new LiveModel(() -> nanos, List.of(ROOM));
    private final Outbox outbox;
    private final NoticeDesk desk;
    private AlarmKeeper keeper;

    DrillsTest(@TempDir Path folder) throws IOException {
        store = HistoryStore.open(folder);
        outside = new StoreFile(folder);
        outbox = Outbox.open(noticeStore, PLAN.limits(), 1, new NoticeTime(nanos, wall.now()));
        desk =
                NoticeDesk.open(
                        new NoticeWriter(TemperatureUnit.CELSIUS, ZoneOffset.UTC),
                        PLAN,
                        outbox,
                        noticeStore,
                        () -> nanos,
                        wall);
        keeper = keeper();
        drills = Optional.of(drills(true));
    }

    @AfterEach
    void close() {
        store.close();
    }

    private AlarmKeeper keeper() throws IOException {
        return AlarmKeeper.prepare(
                AlarmSettings.DEFAULT,
                new NewtonTimeLeft(NewtonTimeLeft.Assumptions.DEFAULT),
                Set.of(ROOM),
                new AlarmKeeper.Around(
                        live,
                        store.alarms(),
                        Optional.of(desk),
                        () -> drills.map(Drills::facts).orElse(List.of()),
                        List::of),
                () -> nanos,
                wall);
    }

    private Drills drills(boolean hasPeople) {
        return new Drills(store.drills(), keeper, live, hasPeople, () -> nanos, wall);
    }

    private void pass(int seconds) {
        for (int i = 0; i < seconds; i++) {
            nanos += SECOND;
            live.linkChanged(ROOM, LiveModel.LinkState.up("connected"));
            live.received(ROOM, 1, snapshot());
            drills.orElseThrow().look();
            keeper.round();
            desk.step();
            NoticeTime now = new NoticeTime(nanos, wall.now());
            for (Optional<Outbox.Attempt> attempt = take(now);
                    attempt.isPresent();
                    attempt = take(now)) {
                told.add(attempt.get().notice());
                outbox.done(attempt.get(), new Delivery.Delivered("taken"), now);
            }
        }
    }

    private Optional<Outbox.Attempt> take(NoticeTime now) {
        Optional<Outbox.Attempt> alarm = outbox.take("mail", now);
        return alarm.isPresent() ? alarm : outbox.takeExercise("mail", now);
    }

    private CabinetSnapshot snapshot() {
        Temperature air = Temperature.ofCelsius(31.5);
        return new CabinetSnapshot(
                NORTH.cabinet(),
                nanos / SECOND,
                new Moment(new BootId(new UUID(1, 2)), nanos, wall.now(), true),
                List.of(),
                Optional.of(air),
                air,
                air,
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
                isHeaterDead
                        ? List.of(
                                new Finding(
                                        FindingCode.HEATER_DEAD,
                                        Optional.empty(),
                                        nanos - SECOND,
                                        "evidence",
                                        "heats",
                                        "Look at the fuse."))
                        : List.of(),
                false);
    }

    private UUID ask(CabinetKey cabinet) throws IOException {
        UUID id = UUID.randomUUID();
        outside.askDrill(id, cabinet, wall.now(), Duration.ofMinutes(10));
        return id;
    }

    private List<String> kinds() {
        return told.stream().map(notice -> notice.kind().word()).toList();
    }

    @Test
    void aDrillIsToldAsOneAndEndsWithTheAcknowledgement() throws IOException {
        UUID id = ask(NORTH);
        pass(5);
        assertEquals(List.of("drill"), kinds());
        String subject = told.get(0).subject();
        assertTrue(subject.startsWith("DRILL, nothing is wrong"), subject);
        assertTrue(outside.drill(id).raised().isPresent());
        assertEquals(Optional.empty(), outside.drill(id).ended());
        assertEquals(Optional.empty(), keeper.acknowledge(told.get(0).eventId(), "anna (by mail)"));
        pass(5);
        assertEquals(List.of("drill", "drill-over"), kinds());
        assertTrue(told.get(1).subject().startsWith("DRILL over"), told.get(1).subject());
        assertTrue(told.get(1).body().startsWith("The drill is over."), told.get(1).body());
        assertEquals("acknowledged", outside.drill(id).outcome());
        assertEquals("anna (by mail)", outside.drill(id).acknowledged().orElseThrow().who());
        assertEquals(List.of(), keeper.alarms());
        pass(600);
        assertEquals(2, told.size());
    }

    @Test
    void aSecondDrillAtOnceIsToldToo() throws IOException {
        for (int i = 0; i < 2; i++) {
            UUID id = ask(NORTH);
            pass(5);
            keeper.acknowledge(told.get(told.size() - 1).eventId(), "anna");
            pass(5);
            assertEquals("acknowledged", outside.drill(id).outcome());
        }
        assertEquals(List.of("drill", "drill-over", "drill", "drill-over"), kinds());
    }

    @Test
    void whoAskedCancelsItAndItEndsByItself() throws IOException {
        UUID cancelled = ask(NORTH);
        pass(5);
        outside.cancelDrill(cancelled);
        pass(5);
        assertEquals("cancelled", outside.drill(cancelled).outcome());
        assertEquals(Optional.empty(), outside.drill(cancelled).acknowledged());
        assertEquals(List.of(), keeper.alarms());
        UUID forgotten = ask(NORTH);
        pass(640);
        assertEquals("nobody acknowledged it within 600 s", outside.drill(forgotten).outcome());
        assertEquals(List.of(), keeper.alarms());
        assertEquals("drill-over", kinds().get(kinds().size() - 1));
    }

    @Test
    void anAlarmDuringADrillIsAnEventOfItsOwnAndToldAtOnce() throws IOException {
        ask(NORTH);
        pass(5);
        isHeaterDead = true;
        pass(2);
        assertEquals(List.of("drill", "first"), kinds());
        assertNotEquals(told.get(0).eventId(), told.get(1).eventId());
        keeper.acknowledge(told.get(0).eventId(), "anna");
        pass(5);
        assertTrue(
                keeper.alarms().stream()
                        .anyMatch(
                                alarm ->
                                        alarm.key().code().equals(FindingCode.HEATER_DEAD)
                                                && alarm.state().awaitsAcknowledgement()));
    }

    @Test
    void whatCannotBeCarriedOutSaysWhy() throws IOException {
        UUID unknown = ask(new CabinetKey(ROOM, new CabinetName("attic")));
        pass(2);
        assertEquals(
                "the monitor has heard nothing of that cabinet", outside.drill(unknown).outcome());
        UUID late = ask(NORTH);
        nanos += 120 * SECOND;
        pass(2);
        assertEquals("no monitor ran when it was asked for", outside.drill(late).outcome());
        drills = Optional.of(drills(false));
        UUID alone = ask(NORTH);
        pass(2);
        assertEquals(
                "nobody stands in the monitor's settings to be told",
                outside.drill(alone).outcome());
        assertEquals(List.of(), told);
    }

    @Test
    void aRestartEndsADrillThatRan() throws IOException {
        UUID id = ask(NORTH);
        pass(5);
        keeper.close();
        drills = Optional.empty();
        keeper = keeper();
        drills = Optional.of(drills(true));
        pass(5);
        assertEquals("the monitor was restarted meanwhile", outside.drill(id).outcome());
        assertTrue(keeper.alarms().stream().noneMatch(alarm -> alarm.key().equals(DRILL)));
        assertEquals(List.of("drill", "drill-over"), kinds());
    }

    @Test
    void aMonthWithoutADrillIsAReminderThatADrillEnds() throws IOException {
        pass(5);
        wallBegin = wallBegin.plus(Drills.DUE_AFTER).minusSeconds(60);
        pass(5);
        assertEquals(List.of(), told);
        wallBegin = wallBegin.plusSeconds(120);
        pass(5);
        assertEquals(List.of("first"), kinds());
        assertTrue(told.get(0).body().contains("evenwarm drill"), told.get(0).body());
        assertEquals("low", told.get(0).priority().word());
        UUID id = ask(NORTH);
        pass(5);
        keeper.act(new OperatorAction.Acknowledge(DRILL), "anna");
        pass(100);
        assertEquals("acknowledged", outside.drill(id).outcome());
        assertEquals(List.of("first", "drill", "drill-over", "all-clear"), kinds());
        assertEquals(wall.now().minusSeconds(99), store.drills().dueSince(wall.now()));
    }

    @Test
    void theStoreKeepsTheEventOfADrill() throws IOException {
        UUID id = ask(NORTH);
        store.drills().taken(id, wall.now());
        store.drills().occurred(id, new EventId(7));
        Drill open = store.drills().open().get(0);
        assertEquals(Optional.of(new EventId(7)), open.event());
        assertEquals(NORTH, open.cabinet());
        assertEquals(Duration.ofMinutes(10), open.limit());
        store.drills().ended(id, wall.now(), "cancelled", false);
        assertEquals(List.of(), store.drills().open());
    }
}
