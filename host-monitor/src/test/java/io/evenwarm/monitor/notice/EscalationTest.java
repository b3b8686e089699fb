package io.evenwarm.monitor.notice;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** One person after the other is told until somebody acknowledges, and nobody who sleeps. */
final class EscalationTest {

    private static final ZoneId BERLIN = ZoneId.of("Europe/Berlin");
    private static final Duration AGAIN = Duration.ofMinutes(30);

    private long nanos;

    /** Four in the afternoon in Berlin. */
    private Instant wall = Instant.parse("2030-03-01T15:00:00Z");

    private static Contact contact(String person, int minutes, Optional<QuietHours> quiet) {
        return new Contact(
                new Recipient(person, Optional.empty()),
                List.of("mail"),
                Duration.ofMinutes(minutes),
                quiet);
    }

    private static Optional<QuietHours> night(NoticePriority... passedBy) {
        return Optional.of(
                QuietHours.parse("22:00-07:00", BERLIN, List.of(passedBy).stream().findFirst()));
    }

    private static final List<Contact> AWAKE =
            List.of(
                    contact("anna", 5, Optional.empty()),
                    contact("bert", 10, Optional.empty()),
                    contact("cleo", 15, Optional.empty()));

    private NoticeTime now() {
        return new NoticeTime(nanos, wall);
    }

    private static Notice notice(int revision, NoticePriority priority) {
        Notice high = Notices.first("e1");
        return new Notice(
                "e1",
                revision,
                NoticeKind.FIRST,
                high.at(),
                priority,
                high.subject(),
                high.body(),
                high.cabinets());
    }

    /** Steps once a minute and writes down who was told in which minute. */
    private List<String> minutes(Escalation escalation, int count) {
        List<String> told = new ArrayList<>();
        for (int minute = 0; minute < count; minute++) {
            for (Escalation.Tell tell : escalation.step(now())) {
                told.add(minute + " " + tell.contact().person() + (tell.isFirst() ? "" : " again"));
            }
            nanos += Duration.ofMinutes(1).toNanos();
            wall = wall.plusSeconds(60);
        }
        return told;
    }

    @Test
    void theNextIsToldWhenTheOneBeforeDidNotAnswerInTimeAndThenItBeginsAgain() {
        Escalation escalation = new Escalation(AWAKE, AGAIN);
        escalation.update(notice(1, NoticePriority.HIGH), now());
        assertEquals(
                List.of(
                        "0 anna",
                        "5 bert",
                        "15 cleo",
                        "45 anna again",
                        "50 bert again",
                        "60 cleo again"),
                minutes(escalation, 90));
    }

    @Test
    void anAcknowledgementEndsIt() {
        Escalation escalation = new Escalation(AWAKE, AGAIN);
        escalation.update(notice(1, NoticePriority.HIGH), now());
        assertEquals(List.of("0 anna", "5 bert"), minutes(escalation, 9));
        escalation.acknowledge("e1");
        assertEquals(List.of(), minutes(escalation, 500));
        // News of the same priority wakes nobody else.
        escalation.update(notice(2, NoticePriority.HIGH), now());
        assertEquals(List.of(), minutes(escalation, 500));
    }

    @Test
    void whatGetsWorseAfterAnAcknowledgementBeginsAgain() {
        Escalation escalation = new Escalation(AWAKE, AGAIN);
        escalation.update(notice(1, NoticePriority.MEDIUM), now());
        assertEquals(List.of("0 anna"), minutes(escalation, 2));
        escalation.acknowledge("e1");
        escalation.update(notice(2, NoticePriority.HIGH), now());
        assertEquals(List.of("0 anna again", "5 bert"), minutes(escalation, 6));
    }

    @Test
    void whoSleepsIsPassedOverAndToldInTheMorning() {
        wall = Instant.parse("2030-03-01T22:00:00Z"); // 23:00
        Escalation escalation =
                new Escalation(
                        List.of(contact("anna", 5, night()), contact("bert", 10, Optional.empty())),
                        Duration.ofHours(5));
        escalation.update(notice(1, NoticePriority.HIGH), now());
        // 04:00 again; 07:00 is minute 480.
        assertEquals(List.of("0 bert", "300 bert again", "480 anna"), minutes(escalation, 610));
    }

    @Test
    void whenEverybodySleepsTheFirstWhoWakesIsToldAtOnce() {
        wall = Instant.parse("2030-03-01T22:00:00Z"); // 23:00
        Escalation escalation =
                new Escalation(List.of(contact("anna", 5, night(NoticePriority.HIGH))), AGAIN);
        escalation.update(notice(1, NoticePriority.MEDIUM), now());
        assertEquals(List.of("480 anna"), minutes(escalation, 500));
    }

    @Test
    void anUrgentNoticePassesQuietHoursWhereThatIsSet() {
        wall = Instant.parse("2030-03-01T22:00:00Z"); // 23:00
        Escalation escalation =
                new Escalation(
                        List.of(
                                contact("anna", 5, night(NoticePriority.HIGH)),
                                contact("bert", 5, night())),
                        AGAIN);
        escalation.update(notice(1, NoticePriority.MEDIUM), now());
        assertEquals(List.of(), minutes(escalation, 10));
        escalation.update(notice(2, NoticePriority.HIGH), now());
        assertEquals(List.of("0 anna", "30 anna again"), minutes(escalation, 40));
    }

    @Test
    void whatIsOnlyToBeLookedAtGoesToOnePersonOnce() {
        Escalation escalation = new Escalation(AWAKE, AGAIN);
        escalation.update(notice(1, NoticePriority.LOW), now());
        assertEquals(List.of("0 anna"), minutes(escalation, 500));
    }

    @Test
    void aRestartGoesOnWhereItStoodWhateverTheClockSays() {
        for (int stepHours : new int[] {0, -10_000, 10_000}) {
            nanos = 0;
            Escalation before = new Escalation(AWAKE, AGAIN);
            before.update(notice(1, NoticePriority.HIGH), now());
            assertEquals(List.of("0 anna", "5 bert"), minutes(before, 7));
            Escalation.Stand stand = before.stand("e1").orElseThrow();
            wall = wall.plus(Duration.ofHours(stepHours));
            nanos = 999;
            Escalation after = new Escalation(AWAKE, AGAIN);
            after.restore(List.of(stand), now());
            List<String> told = minutes(after, 31);
            assertEquals(
                    stepHours == 0
                            ? List.of("8 cleo")
                            : stepHours < 0
                                    ? List.of("10 cleo")
                                    : List.of("0 cleo", "30 anna again"),
                    told);
        }
    }

    @Test
    void aClockThatStepsInTheMiddleOfAWaitChangesNothing() {
        Escalation escalation = new Escalation(AWAKE, AGAIN);
        escalation.update(notice(1, NoticePriority.HIGH), now());
        assertEquals(List.of("0 anna"), minutes(escalation, 3));
        wall = wall.minus(Duration.ofDays(1000));
        assertEquals(List.of("2 bert", "12 cleo"), minutes(escalation, 13));
    }

    @Test
    void quietHoursGoByTheLocalClockOverMidnightAndSummerTime() {
        QuietHours night = QuietHours.parse("22:00-07:00", BERLIN, Optional.empty());
        assertTrue(night.keepBack(NoticePriority.HIGH, Instant.parse("2030-01-10T21:00:00Z")));
        assertFalse(night.keepBack(NoticePriority.HIGH, Instant.parse("2030-01-10T20:59:59Z")));
        assertFalse(night.keepBack(NoticePriority.HIGH, Instant.parse("2030-01-11T06:00:00Z")));
        // In summer Berlin is an hour further ahead.
        assertTrue(night.keepBack(NoticePriority.HIGH, Instant.parse("2030-07-10T20:00:00Z")));
        assertFalse(night.keepBack(NoticePriority.HIGH, Instant.parse("2030-07-10T05:00:00Z")));
        QuietHours noon = QuietHours.parse("12:00-13:30", BERLIN, Optional.of(NoticePriority.HIGH));
        assertEquals(LocalTime.of(13, 30), noon.to());
        assertTrue(noon.keepBack(NoticePriority.MEDIUM, Instant.parse("2030-01-10T12:29:00Z")));
        assertFalse(noon.keepBack(NoticePriority.HIGH, Instant.parse("2030-01-10T12:29:00Z")));
        for (String text : List.of("22:00", "24:00-07:00", "22:00-22:00", "22-7", "")) {
            assertThrows(
                    IllegalArgumentException.class,
                    () -> QuietHours.parse(text, BERLIN, Optional.empty()),
                    text);
        }
    }
}
