package io.evenwarm.monitor.notice;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.WallClock;
import io.evenwarm.quantity.TemperatureUnit;
import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** One event makes one notice and its follow-ups, to the right people, until it is acknowledged. */
final class NoticeDeskTest {

    private static final NoticePlan PLAN =
            new NoticePlan(
                    List.of(contact("anna"), contact("bert")),
                    Duration.ofMinutes(30),
                    OutboxLimits.USUAL);

    private final MemoryNoticeStore store = new MemoryNoticeStore();
    private long nanos;
    private Instant wall = Notices.NIGHT;
    private Outbox outbox;
    private NoticeDesk desk;

    NoticeDeskTest() throws IOException {
        outbox = openOutbox();
        desk = openDesk();
    }

    private static Contact contact(String person) {
        return new Contact(
                new Recipient(person, Optional.empty()),
                List.of("mail"),
                Duration.ofMinutes(5),
                Optional.empty());
    }

    private Outbox openOutbox() throws IOException {
        return Outbox.open(store, PLAN.limits(), 1, new NoticeTime(nanos, wall));
    }

    private NoticeDesk openDesk() throws IOException {
        return NoticeDesk.open(
                new NoticeWriter(TemperatureUnit.CELSIUS, ZoneOffset.UTC),
                PLAN,
                outbox,
                store,
                () -> nanos,
                new WallClock() {
                    @Override
                    public Instant now() {
                        return wall;
                    }

                    @Override
                    public boolean isTrusted() {
                        return true;
                    }
                });
    }

    /** Lets time pass, with a step each second, and delivers all that is due. */
    private List<String> delivered(Duration duration) {
        List<String> delivered = new ArrayList<>();
        for (long second = 0; second <= duration.toSeconds(); second++) {
            desk.step();
            NoticeTime now = new NoticeTime(nanos, wall);
            Optional<Outbox.Attempt> attempt = take(now);
            while (attempt.isPresent()) {
                Notice notice = attempt.get().notice();
                delivered.add(
                        attempt.get().person()
                                + " "
                                + notice.eventId()
                                + " "
                                + notice.kind().word()
                                + " "
                                + notice.revision());
                outbox.done(attempt.get(), new Delivery.Delivered("taken"), now);
                attempt = take(now);
            }
            nanos += 1_000_000_000L;
            wall = wall.plusSeconds(1);
        }
        return delivered;
    }

    private Optional<Outbox.Attempt> take(NoticeTime now) {
        Optional<Outbox.Attempt> alarm = outbox.take("mail", now);
        return alarm.isPresent() ? alarm : outbox.takeExercise("mail", now);
    }

    private void report(NoticePriority priority, String... cabinets) {
        List<CabinetFacts> facts = new ArrayList<>();
        for (String cabinet : cabinets) {
            facts.add(Notices.cold(cabinet));
        }
        desk.report("e1", priority, facts, true, false);
    }

    @Test
    void aHundredEventsOfOneMomentAreKeptInTwoGoings() {
        List<NoticeDesk.Report> reports = new ArrayList<>();
        for (int i = 1; i <= 100; i++) {
            List<CabinetFacts> facts = List.of(Notices.cold("c" + i));
            reports.add(new NoticeDesk.Report("e" + i, NoticePriority.HIGH, facts, true, false));
        }
        desk.report(reports);
        assertEquals(2, store.writes, "the notices, and who knows of them");
        assertEquals(100, store.rows.size());
        assertEquals(100, store.stands.size());
        assertEquals(100, delivered(Duration.ZERO).size());
    }

    @Test
    void fiveCabinetsOfOneEventAreOneNoticeAndNewsIsAFollowUp() {
        report(NoticePriority.HIGH, "a", "b", "c", "d", "e");
        assertEquals(List.of("anna e1 first 1"), delivered(Duration.ofMinutes(1)));
        report(NoticePriority.HIGH, "a", "b", "c", "d", "e", "f");
        assertEquals(List.of("anna e1 follow-up 2"), delivered(Duration.ofMinutes(1)));
        // Bert, whose turn comes, hears the newest, and an all-clear goes to both.
        assertEquals(List.of("bert e1 follow-up 2"), delivered(Duration.ofMinutes(5)));
        desk.clear("e1", List.of(Notices.cold("a")));
        assertEquals(
                List.of("anna e1 all-clear 3", "bert e1 all-clear 3"),
                delivered(Duration.ofHours(2)));
        assertTrue(store.stands.isEmpty());
    }

    @Test
    void whoDoesNotAnswerIsToldAgainWithAFollowUp() {
        report(NoticePriority.HIGH, "a");
        assertEquals(
                List.of(
                        "anna e1 first 1",
                        "bert e1 first 1",
                        "anna e1 follow-up 2",
                        "bert e1 follow-up 3"),
                delivered(Duration.ofMinutes(41)));
    }

    @Test
    void anAcknowledgementStopsAllButNewsAndTheAllClearAlsoAfterARestart() throws IOException {
        report(NoticePriority.HIGH, "a");
        assertEquals(List.of("anna e1 first 1"), delivered(Duration.ofMinutes(1)));
        report(NoticePriority.HIGH, "a", "b");
        assertTrue(desk.acknowledge("e1"));
        assertEquals(List.of(), delivered(Duration.ofHours(3)));
        nanos = -9;
        outbox = openOutbox();
        desk = openDesk();
        report(NoticePriority.HIGH, "a", "b", "c");
        // Nobody has acknowledged c: whoever was told hears of it once, and nobody else is woken.
        assertEquals(List.of("anna e1 follow-up 3"), delivered(Duration.ofHours(3)));
        // That it is still there, though acknowledged, goes to nobody.
        desk.report("e1", NoticePriority.HIGH, List.of(Notices.cold("a")), false, false);
        assertEquals(List.of(), delivered(Duration.ofHours(3)));
        desk.clear("e1", List.of(Notices.cold("a")));
        assertEquals(List.of("anna e1 all-clear 5"), delivered(Duration.ofMinutes(1)));
        assertFalse(desk.acknowledge("e1"), "it is over");
    }

    @Test
    void whatGetsWorseAfterAnAcknowledgementIsToldAgain() {
        report(NoticePriority.MEDIUM, "a");
        delivered(Duration.ofMinutes(1));
        desk.acknowledge("e1");
        report(NoticePriority.HIGH, "a");
        assertEquals(
                List.of("anna e1 follow-up 3", "bert e1 follow-up 3"),
                delivered(Duration.ofMinutes(6)));
    }

    /**
     * Delivers what is due: refuses what goes to {@code person}, and lets the others have theirs.
     */
    private List<String> deliveredBut(String person, int seconds) {
        List<String> delivered = new ArrayList<>();
        for (int second = 0; second <= seconds; second++) {
            desk.step();
            NoticeTime now = new NoticeTime(nanos, wall);
            Optional<Outbox.Attempt> attempt = take(now);
            while (attempt.isPresent()) {
                boolean isRefused = attempt.get().person().equals(person);
                outbox.done(
                        attempt.get(),
                        isRefused
                                ? new Delivery.Refused("no such address")
                                : new Delivery.Delivered("taken"),
                        now);
                if (!isRefused) {
                    delivered.add(attempt.get().person() + " after " + second + " s");
                }
                attempt = take(now);
            }
            nanos += 1_000_000_000L;
            wall = wall.plusSeconds(1);
        }
        return delivered;
    }

    @Test
    void whoseAddressIsRefusedForGoodIsNotWaitedFor() {
        report(NoticePriority.HIGH, "a");
        assertEquals(List.of("bert after 1 s"), deliveredBut("anna", 60));
    }

    @Test
    void whatIsOnlyToBeLookedAtGoesToTheNextWhenTheFirstCannotBeReached() {
        report(NoticePriority.LOW, "a");
        assertEquals(List.of("bert after 1 s"), deliveredBut("anna", 3600));
    }

    @Test
    void aRestartInTheMiddleTellsNobodyTwiceAndGoesOnWithTheChain() throws IOException {
        report(NoticePriority.HIGH, "a");
        assertEquals(List.of("anna e1 first 1"), delivered(Duration.ofMinutes(2)));
        nanos = 5;
        outbox = openOutbox();
        desk = openDesk();
        assertEquals(List.of("bert e1 first 1"), delivered(Duration.ofMinutes(5)));
    }

    @Test
    void aDrillIsMarkedAndOnlyWhoHeardOfAnEventHearsItsEnd() {
        desk.report("d1", NoticePriority.HIGH, List.of(Notices.cold("a")), true, true);
        assertEquals(List.of("anna d1 drill 1"), delivered(Duration.ofMinutes(1)));
        desk.clear("unknown", List.of(Notices.cold("a")));
        assertEquals(List.of(), delivered(Duration.ofMinutes(1)));
        desk.clear("d1", List.of(Notices.cold("a")));
        assertEquals(List.of("anna d1 drill-over 2"), delivered(Duration.ofMinutes(1)));
    }
}
