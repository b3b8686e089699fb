package io.evenwarm.monitor.alarm;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.alarm.AlarmPerformance.Frequent;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/**
 * The figures of ISA-18.2, IEC 62682 and EEMUA 191 (from memory of them), on lists that are counted
 * by hand.
 */
final class AlarmPerformanceTest {

    private static final Instant BEGIN = Instant.parse("2026-03-01T00:00:00Z");
    private static final AlarmKey COLD = key("too-cold");
    private static final AlarmKey WARM = key("too-warm");
    private static final AlarmKey CHATTER = key("relay-chatter");

    private final List<AlarmChange> changes = new ArrayList<>();

    private static AlarmKey key(String code) {
        return AlarmKey.of(Subject.of(new AgentName("egg room")), new FindingCode(code));
    }

    private static TimeSpan hours(long hours) {
        return new TimeSpan(BEGIN, BEGIN.plus(Duration.ofHours(hours)));
    }

    private void change(
            double atMinutes, AlarmKey key, Priority priority, AlarmState from, AlarmState to) {
        long nanos = (long) (atMinutes * 60e9);
        Now at = new Now(BEGIN.plusNanos(nanos), nanos);
        changes.add(
                new AlarmChange(
                        changes.size() + 1,
                        key,
                        Optional.of(new EventId(1)),
                        from,
                        to,
                        Trigger.OCCURRED,
                        at,
                        "monitor",
                        "",
                        priority,
                        Optional.empty(),
                        nanos,
                        at.wall(),
                        new AlarmWords("", "", "")));
    }

    /** Comes into view, and is normal again half a second later. */
    private void brief(double atMinutes, AlarmKey key, Priority priority) {
        change(atMinutes, key, priority, AlarmState.NORMAL, AlarmState.UNACKNOWLEDGED);
        change(
                atMinutes + 0.5 / 60,
                key,
                priority,
                AlarmState.UNACKNOWLEDGED,
                AlarmState.RETURNED_UNACKNOWLEDGED);
    }

    private static Set<String> names(AlarmKey... keys) {
        return Stream.of(keys).map(AlarmKey::toString).collect(Collectors.toSet());
    }

    private AlarmPerformance in(TimeSpan span) {
        return AlarmPerformance.of(changes.stream().map(AlarmPerformance.Step::of).toList(), span);
    }

    @Test
    void aDayWithThreeAlarmsIsThreeADay() {
        brief(5, COLD, Priority.LOW);
        brief(65, COLD, Priority.LOW);
        brief(700, WARM, Priority.HIGH);
        AlarmPerformance day = in(hours(24));
        assertEquals(3, day.annunciations());
        assertEquals(3 / 24.0, day.anHour(), 1e-12);
        assertEquals(1, day.mostInTenMinutes());
        assertEquals(1, day.mostInOneHour());
        assertEquals(2 / 3.0, day.share(Priority.LOW), 1e-12);
        assertEquals(0, day.share(Priority.MEDIUM));
        assertEquals(1 / 3.0, day.share(Priority.HIGH), 1e-12);
        assertEquals(
                List.of(new Frequent(COLD.toString(), 2), new Frequent(WARM.toString(), 1)),
                day.frequent());
        assertEquals(1, day.frequentShare());
        assertEquals(0, day.floods());
        assertEquals(Set.of(), day.chattering());
        assertEquals(Set.of(), day.stale());
        assertEquals(0, day.standing());
    }

    /**
     * Periods of ten minutes with 11, 7, 5, 4 and 12 alarms: the first begins a flood, which the
     * fourth ends; the fifth is another one. Four of six periods are in flood, two have more than
     * 10, and the one hour has 39, more than 30.
     */
    @Test
    void aFloodBeginsAboveTenInTenMinutesAndEndsBelowFive() {
        int[] counts = {11, 7, 5, 4, 12, 0};
        for (int period = 0; period < counts.length; period++) {
            for (int number = 0; number < counts[period]; number++) {
                brief(10 * period + 0.5 * number, key("kind-" + number), Priority.LOW);
            }
        }
        AlarmPerformance hour = in(hours(1));
        assertEquals(39, hour.annunciations());
        assertEquals(12, hour.mostInTenMinutes());
        assertEquals(39, hour.mostInOneHour());
        assertEquals(2 / 6.0, hour.busyTenMinutes(), 1e-12);
        assertEquals(1, hour.busyHours());
        assertEquals(2, hour.floods());
        assertEquals(4 / 6.0, hour.floodShare(), 1e-12);
    }

    /** Twelve kinds, the first three times, the rest once: the ten most frequent make 12 of 14. */
    @Test
    void theTenMostFrequentAreListed() {
        for (int number = 0; number < 12; number++) {
            brief(number * 20, key("kind-" + (char) ('a' + number)), Priority.LOW);
        }
        brief(300, key("kind-a"), Priority.LOW);
        brief(400, key("kind-a"), Priority.LOW);
        AlarmPerformance day = in(hours(24));
        assertEquals(10, day.frequent().size());
        assertEquals(new Frequent(key("kind-a").toString(), 3), day.frequent().get(0));
        assertEquals(12 / 14.0, day.frequentShare(), 1e-12);
    }

    @Test
    void threeWithinAMinuteAreChatteringAndTwoAreNot() {
        brief(0, CHATTER, Priority.LOW);
        brief(0.5, CHATTER, Priority.LOW);
        brief(1, CHATTER, Priority.LOW);
        brief(10, COLD, Priority.LOW);
        brief(10.5, COLD, Priority.LOW);
        brief(11.1, COLD, Priority.LOW);
        assertEquals(names(CHATTER), in(hours(1)).chattering());
    }

    @Test
    void whatStandsForMoreThanADayIsStale() {
        change(0, COLD, Priority.LOW, AlarmState.NORMAL, AlarmState.UNACKNOWLEDGED);
        change(5, COLD, Priority.LOW, AlarmState.UNACKNOWLEDGED, AlarmState.ACKNOWLEDGED);
        change(0, WARM, Priority.LOW, AlarmState.NORMAL, AlarmState.UNACKNOWLEDGED);
        change(
                24 * 60,
                WARM,
                Priority.LOW,
                AlarmState.UNACKNOWLEDGED,
                AlarmState.RETURNED_UNACKNOWLEDGED);
        assertEquals(Set.of(), in(hours(24)).stale(), "exactly a day is not more");
        AlarmPerformance longer = in(hours(25));
        assertEquals(names(COLD), longer.stale());
        assertEquals(1, longer.standing());
    }

    /** ISA-18.2 (from memory): fewer than five stale alarms on any day, not in all. */
    @Test
    void staleOnesAreCountedByTheDay() {
        stands(0, 70, COLD);
        stands(50, 100, WARM);
        stands(23, 47.5, CHATTER);
        AlarmPerformance week = in(hours(7 * 24));
        assertEquals(names(COLD, WARM, CHATTER), week.stale());
        assertEquals(2, week.mostStaleOnADay(), "on the second day; the second one on the fourth");
    }

    private void stands(double fromHours, double toHours, AlarmKey key) {
        change(fromHours * 60, key, Priority.LOW, AlarmState.NORMAL, AlarmState.ACKNOWLEDGED);
        change(toHours * 60, key, Priority.LOW, AlarmState.ACKNOWLEDGED, AlarmState.NORMAL);
    }

    @Test
    void aRisenPriorityIsNoAnnunciationAndWhatIsPutAwayIsCounted() {
        change(0, COLD, Priority.LOW, AlarmState.NORMAL, AlarmState.UNACKNOWLEDGED);
        change(1, COLD, Priority.HIGH, AlarmState.UNACKNOWLEDGED, AlarmState.UNACKNOWLEDGED);
        change(2, COLD, Priority.HIGH, AlarmState.UNACKNOWLEDGED, AlarmState.SHELVED);
        change(3, WARM, Priority.LOW, AlarmState.NORMAL, AlarmState.SUPPRESSED_BY_DESIGN);
        AlarmPerformance hour = in(hours(1));
        assertEquals(1, hour.annunciations());
        assertEquals(0, hour.standing());
        assertEquals(2, hour.putAway());
    }

    @Test
    void onlyTheSpanCounts() {
        brief(-10, COLD, Priority.LOW);
        brief(10, COLD, Priority.LOW);
        brief(60, COLD, Priority.LOW);
        assertEquals(1, in(hours(1)).annunciations());
        assertThrows(IllegalArgumentException.class, () -> in(hours(0)));
    }
}
