package io.evenwarm.monitor.notice;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.notice.Outbox.Attempt;
import io.evenwarm.monitor.notice.Outbox.Way;
import io.evenwarm.quantity.TemperatureUnit;
import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What waits is delivered at least once, at the right time, and not after it was acknowledged. */
final class OutboxTest {

    private static final Way ANNA = new Way("anna", "mail");
    private static final Way BERT = new Way("bert", "mail");
    private static final List<NoticePriority> PRIORITIES = List.of(NoticePriority.values());
    private static final Delivery TAKEN = new Delivery.Delivered("taken");
    private static final Delivery BUSY = new Delivery.TryAgain("busy", Duration.ZERO);

    private final MemoryNoticeStore store = new MemoryNoticeStore();
    private long nanos = 77;
    private Instant wall = Notices.NIGHT;

    private NoticeTime now() {
        return new NoticeTime(nanos, wall);
    }

    private void pass(Duration duration) {
        nanos += duration.toNanos();
        wall = wall.plus(duration);
    }

    private Outbox open() throws IOException {
        return open(OutboxLimits.USUAL);
    }

    private Outbox open(OutboxLimits limits) throws IOException {
        return Outbox.open(store, limits, 4711, now());
    }

    private static Notice of(String event, int revision, NoticePriority priority) {
        return new NoticeWriter(TemperatureUnit.CELSIUS, ZoneOffset.UTC)
                .write(
                        event,
                        revision,
                        revision == 1 ? NoticeKind.FIRST : NoticeKind.FOLLOW_UP,
                        Notices.NIGHT,
                        priority,
                        List.of(Notices.bare("north")));
    }

    private Attempt take(Outbox outbox) {
        return outbox.take("mail", now()).orElseThrow();
    }

    private boolean isIdle(Outbox outbox) {
        return outbox.take("mail", now()).isEmpty();
    }

    @Test
    void aNoticeGoesOutAtOnceAndOnce() throws IOException {
        Outbox outbox = open();
        outbox.add(Notices.first("e1"), List.of(ANNA, BERT, ANNA), now());
        outbox.add(Notices.first("e1"), List.of(ANNA), now());
        Attempt first = take(outbox);
        Attempt second = take(outbox);
        assertEquals(List.of("anna", "bert"), List.of(first.person(), second.person()));
        assertTrue(isIdle(outbox));
        outbox.done(first, TAKEN, now());
        outbox.done(second, TAKEN, now());
        outbox.add(Notices.first("e1"), List.of(ANNA), now());
        assertTrue(isIdle(outbox), "it is known that this one was delivered");
        assertEquals(
                List.of(DeliveryState.DELIVERED, DeliveryState.DELIVERED),
                List.copyOf(store.states.values()));
        assertThrows(IllegalStateException.class, () -> outbox.done(first, TAKEN, now()));
    }

    @Test
    void whatFailsIsTriedAgainAfterDoublingWaitsUpToTenMinutes() throws IOException {
        Outbox outbox = open();
        outbox.add(Notices.first("e1"), List.of(ANNA), now());
        List<Double> seconds = new ArrayList<>();
        for (int i = 0; i < 12; i++) {
            outbox.done(take(outbox), BUSY, now());
            Duration wait = outbox.untilNext("mail", now()).orElseThrow();
            seconds.add(wait.toMillis() / 1000.0);
            pass(wait.minusNanos(1));
            assertTrue(isIdle(outbox));
            pass(Duration.ofNanos(1));
        }
        for (int i = 0; i < seconds.size(); i++) {
            double base = Math.min(600, 5 * Math.pow(2, i));
            assertEquals(base, seconds.get(i), 0.2 * base + 0.001, seconds.toString());
        }
        assertTrue(new HashSet<>(seconds.subList(7, 12)).size() == 5, "by chance each: " + seconds);
    }

    @Test
    void theOtherSidesWishForTimeIsHeardUpToAnHour() throws IOException {
        Outbox outbox = open();
        outbox.add(Notices.first("e1"), List.of(ANNA), now());
        outbox.done(take(outbox), new Delivery.TryAgain("later", Duration.ofMinutes(2)), now());
        assertEquals(Optional.of(Duration.ofMinutes(2)), outbox.untilNext("mail", now()));
        pass(Duration.ofMinutes(2));
        outbox.done(take(outbox), new Delivery.TryAgain("later", Duration.ofDays(2)), now());
        assertEquals(Optional.of(Duration.ofHours(1)), outbox.untilNext("mail", now()));
    }

    @Test
    void aWallClockThatStepsMakesNothingLate() throws IOException {
        Outbox outbox = open();
        outbox.add(Notices.first("e1"), List.of(ANNA), now());
        outbox.done(take(outbox), BUSY, now());
        wall = wall.minus(Duration.ofDays(300));
        nanos += Duration.ofSeconds(6).toNanos();
        Attempt again = take(outbox);
        assertEquals(1, again.tries());
        outbox.done(again, BUSY, now());
        // A restart with a clock that is put back a year: what was to wait 10 s waits no year.
        wall = wall.minus(Duration.ofDays(65));
        nanos = -5;
        Outbox after = open();
        assertTrue(isIdle(after));
        pass(RetryWaits.LONGEST);
        assertEquals(2, take(after).tries());
    }

    @Test
    void whatWaitsSurvivesARestartWithItsTriesAndItsWait() throws IOException {
        Outbox outbox = open();
        outbox.add(Notices.first("e1"), List.of(ANNA, BERT), now());
        outbox.done(take(outbox), TAKEN, now());
        outbox.done(take(outbox), new Delivery.TryAgain("later", Duration.ofMinutes(3)), now());
        pass(Duration.ofMinutes(1));
        nanos = 123_456_789;
        Outbox after = open();
        assertEquals(Optional.of(Duration.ofMinutes(2)), after.untilNext("mail", now()));
        pass(Duration.ofMinutes(2));
        Attempt attempt = take(after);
        assertEquals("bert", attempt.person());
        assertEquals(1, attempt.tries());
        assertEquals(Notices.first("e1"), attempt.notice());
    }

    @Test
    void whatWasUnderWayAtAPowerCutGoesOutAgain() throws IOException {
        Outbox outbox = open();
        outbox.add(Notices.first("e1"), List.of(ANNA), now());
        take(outbox);
        assertEquals(Notices.first("e1"), take(open()).notice());
    }

    @Test
    void anAcknowledgedEventGoesOutNoMoreAlsoAfterARestart() throws IOException {
        Outbox outbox = open();
        outbox.add(Notices.first("e1"), List.of(ANNA, BERT), now());
        outbox.add(Notices.first("e2"), List.of(ANNA), now());
        Attempt underWay = take(outbox);
        assertEquals(2, outbox.acknowledge("e1", now()));
        outbox.done(underWay, BUSY, now());
        pass(Duration.ofHours(1));
        assertEquals("e2", take(outbox).notice().eventId());
        assertTrue(isIdle(outbox));
        assertEquals("e2", take(open()).notice().eventId());
        assertEquals(
                2,
                store.states.values().stream()
                        .filter(s -> s == DeliveryState.ACKNOWLEDGED)
                        .count());
    }

    @Test
    void theStoreIsToldOfAnAcknowledgementAsSoonAsItCan() throws IOException {
        Outbox outbox = open();
        outbox.add(Notices.first("e1"), List.of(ANNA), now());
        store.isFull = true;
        outbox.acknowledge("e1", now());
        assertEquals(Optional.of("the disk is full"), outbox.health(now()).storeTrouble());
        assertFalse(outbox.health(now()).isWell());
        store.isFull = false;
        assertTrue(outbox.health(now()).isWell());
        assertTrue(isIdle(open()), "it is not delivered after a restart");
    }

    @Test
    void aFullDiskLosesNoNotice() throws IOException {
        Outbox outbox = open();
        store.isFull = true;
        outbox.add(Notices.first("e1"), List.of(ANNA), now());
        outbox.add(Notices.first("e2"), List.of(BERT), now());
        outbox.done(take(outbox), TAKEN, now());
        store.isFull = false;
        assertTrue(outbox.health(now()).isWell());
        assertEquals("e2", take(open()).notice().eventId(), "what still waits is kept now");
        assertEquals(1, store.rows.size());
    }

    @Test
    void aNewerNoticeTakesThePlaceOfAnOlderThatStillWaits() throws IOException {
        Outbox outbox = open();
        outbox.add(of("e1", 1, NoticePriority.HIGH), List.of(ANNA, BERT), now());
        Attempt underWay = take(outbox);
        for (int revision = 2; revision <= 9; revision++) {
            outbox.add(of("e1", revision, NoticePriority.HIGH), List.of(ANNA, BERT), now());
        }
        outbox.add(of("e1", 3, NoticePriority.HIGH), List.of(BERT), now());
        Attempt bert = take(outbox);
        assertEquals("bert", bert.person());
        assertEquals(9, bert.notice().revision());
        assertTrue(isIdle(outbox), "Anna's next must not overtake the one that is under way");
        outbox.done(underWay, BUSY, now());
        Attempt anna = take(outbox);
        assertEquals(9, anna.notice().revision());
        outbox.done(anna, TAKEN, now());
        outbox.done(bert, TAKEN, now());
        pass(Duration.ofHours(1));
        assertTrue(isIdle(outbox));
    }

    @Test
    void theMostUrgentGoesFirst() throws IOException {
        Outbox outbox = open();
        outbox.add(of("low", 1, NoticePriority.LOW), List.of(ANNA), now());
        outbox.add(of("high", 1, NoticePriority.HIGH), List.of(ANNA), now());
        outbox.add(of("medium", 1, NoticePriority.MEDIUM), List.of(ANNA), now());
        assertEquals(
                List.of("high", "medium", "low"),
                List.of(
                        take(outbox).notice().eventId(),
                        take(outbox).notice().eventId(),
                        take(outbox).notice().eventId()));
    }

    @Test
    void aFullQueueKeepsWhatIsMostUrgentAndCountsWhatGaveWay() throws IOException {
        Outbox outbox = open(new OutboxLimits(3, Duration.ofMinutes(10)));
        outbox.add(of("a", 1, NoticePriority.LOW), List.of(ANNA), now());
        outbox.add(of("b", 1, NoticePriority.MEDIUM), List.of(ANNA), now());
        outbox.add(of("c", 1, NoticePriority.MEDIUM), List.of(ANNA), now());
        outbox.add(of("d", 1, NoticePriority.HIGH), List.of(ANNA), now());
        outbox.add(of("e", 1, NoticePriority.MEDIUM), List.of(ANNA), now());
        outbox.add(of("f", 1, NoticePriority.LOW), List.of(ANNA), now());
        assertEquals(3, outbox.health(now()).pending());
        assertEquals(3, outbox.health(now()).overflowedCount());
        assertEquals(
                List.of("d", "c", "e"),
                List.of(
                        take(outbox).notice().eventId(),
                        take(outbox).notice().eventId(),
                        take(outbox).notice().eventId()));
    }

    @Test
    void aChannelThatDeliversNothingIsToldAfterItsTime() throws IOException {
        Outbox outbox = open();
        outbox.add(Notices.first("e1"), List.of(ANNA, new Way("anna", "hook")), now());
        outbox.done(outbox.take("hook", now()).orElseThrow(), TAKEN, now());
        outbox.done(take(outbox), BUSY, now());
        pass(Duration.ofMinutes(10).minusNanos(1));
        assertTrue(outbox.health(now()).isWell());
        pass(Duration.ofNanos(1));
        assertEquals(
                List.of(new OutboxHealth.StuckChannel("mail", 1, Duration.ofMinutes(10), "busy")),
                outbox.health(now()).stuck());
        // And still after a restart.
        nanos = 0;
        assertFalse(open().health(now()).isWell());
        outbox = open();
        outbox.done(take(outbox), TAKEN, now());
        assertTrue(outbox.health(now()).isWell());
    }

    @Test
    void whatIsRefusedForGoodIsCountedAndNotTriedAgain() throws IOException {
        Outbox outbox = open();
        outbox.add(Notices.first("e1"), List.of(ANNA), now());
        outbox.done(take(outbox), new Delivery.Refused("no such user"), now());
        pass(Duration.ofDays(1));
        assertTrue(isIdle(outbox));
        assertEquals(1, outbox.health(now()).refusedCount());
        assertEquals(List.of(DeliveryState.REFUSED), List.copyOf(store.states.values()));
    }

    @Test
    void oneWhoHasAnotherChannelIsReachedByThat() throws IOException {
        Outbox outbox = open();
        outbox.add(of("e1", 1, NoticePriority.HIGH), List.of(ANNA, new Way("anna", "hook")), now());
        outbox.done(take(outbox), new Delivery.Refused("no such address"), now());
        assertEquals(List.of(), outbox.takeUnreached());
        Attempt hook = outbox.take("hook", now()).orElseThrow();
        outbox.done(hook, BUSY, now());
        assertEquals(List.of(), outbox.takeUnreached());
        pass(Duration.ofMinutes(1));
        outbox.done(outbox.take("hook", now()).orElseThrow(), new Delivery.Refused("gone"), now());
        assertEquals(List.of(new Outbox.Unreached("e1", "anna")), outbox.takeUnreached());
        assertEquals(List.of(), outbox.takeUnreached());
    }

    @Test
    void anExerciseTravelsApartAndIsTheFirstToGiveWay() throws IOException {
        Outbox outbox = open(new OutboxLimits(2, Duration.ofMinutes(10)));
        Notice drill = Notices.of("d1", 1, NoticeKind.DRILL, Notices.bare("north"));
        outbox.add(drill, List.of(ANNA), now());
        assertTrue(isIdle(outbox), "no alarm's thread takes it");
        outbox.add(of("e1", 1, NoticePriority.LOW), List.of(ANNA), now());
        assertEquals("e1", take(outbox).notice().eventId());
        outbox.add(of("e2", 1, NoticePriority.LOW), List.of(ANNA), now());
        assertEquals(Optional.empty(), outbox.takeExercise("mail", now()), "it gave way");
        assertEquals("e2", take(outbox).notice().eventId());
    }

    /**
     * Random additions, deliveries, failures, acknowledgements, full disks, clock steps and
     * restarts: each event's newest notice is delivered, refused or acknowledged in the end, and
     * nothing of an acknowledged event begins to go out after that.
     */
    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10})
    void whateverHappensEachEventIsToldAndNoAcknowledgedOneAgain(long seed) throws IOException {
        Random random = new Random(seed);
        Outbox outbox = open();
        Map<String, Integer> newest = new HashMap<>();
        Set<String> told = new HashSet<>();
        Set<String> acknowledged = new HashSet<>();
        List<Attempt> underWay = new ArrayList<>();
        for (int i = 0; i < 2000; i++) {
            pass(Duration.ofMillis(random.nextInt(20_000)));
            switch (random.nextInt(8)) {
                case 0, 1 -> {
                    String event = "e" + random.nextInt(60);
                    if (!acknowledged.contains(event)) {
                        int revision = newest.merge(event, 1, Integer::sum);
                        NoticePriority priority = PRIORITIES.get(random.nextInt(PRIORITIES.size()));
                        outbox.add(of(event, revision, priority), List.of(ANNA, BERT), now());
                        told.remove(event);
                    }
                }
                case 2, 3, 4 -> {
                    Optional<Attempt> attempt = outbox.take("mail", now());
                    attempt.ifPresent(
                            there -> {
                                assertFalse(
                                        acknowledged.contains(there.notice().eventId()),
                                        "seed " + seed + ": " + there);
                                underWay.add(there);
                            });
                }
                case 5 -> {
                    if (!underWay.isEmpty()) {
                        Attempt attempt = underWay.remove(random.nextInt(underWay.size()));
                        boolean isTaken = random.nextInt(3) > 0;
                        outbox.done(attempt, isTaken ? TAKEN : BUSY, now());
                        String event = attempt.notice().eventId();
                        if (isTaken
                                && attempt.notice().revision() == newest.getOrDefault(event, 0)) {
                            told.add(event);
                        }
                    }
                }
                case 6 -> {
                    if (random.nextInt(4) == 0) {
                        String event = "e" + random.nextInt(60);
                        outbox.acknowledge(event, now());
                        acknowledged.add(event);
                    } else {
                        wall = wall.plusSeconds(random.nextInt(100_000) - 50_000);
                    }
                }
                default -> {
                    if (random.nextInt(10) == 0) {
                        // A power cut: what is under way may or may not have arrived.
                        nanos = random.nextInt();
                        underWay.clear();
                        outbox = open();
                    }
                }
            }
        }
        for (Attempt attempt : underWay) {
            outbox.done(attempt, BUSY, now());
        }
        for (int i = 0; i < 10_000 && outbox.health(now()).pending() > 0; i++) {
            pass(Duration.ofMinutes(11));
            Optional<Attempt> attempt = outbox.take("mail", now());
            if (attempt.isPresent()) {
                outbox.done(attempt.get(), TAKEN, now());
                if (attempt.get().notice().revision()
                        == newest.getOrDefault(attempt.get().notice().eventId(), 0)) {
                    told.add(attempt.get().notice().eventId());
                }
            }
        }
        for (String event : newest.keySet()) {
            assertTrue(
                    told.contains(event) || acknowledged.contains(event),
                    "seed " + seed + ": nobody heard of " + event);
        }
    }
}
