package io.evenwarm.monitor.alarm;

import static io.evenwarm.monitor.alarm.AlarmState.ACKNOWLEDGED;
import static io.evenwarm.monitor.alarm.AlarmState.LATCHED_ACKNOWLEDGED;
import static io.evenwarm.monitor.alarm.AlarmState.LATCHED_UNACKNOWLEDGED;
import static io.evenwarm.monitor.alarm.AlarmState.NORMAL;
import static io.evenwarm.monitor.alarm.AlarmState.OUT_OF_SERVICE;
import static io.evenwarm.monitor.alarm.AlarmState.RETURNED_UNACKNOWLEDGED;
import static io.evenwarm.monitor.alarm.AlarmState.SHELVED;
import static io.evenwarm.monitor.alarm.AlarmState.SUPPRESSED_BY_DESIGN;
import static io.evenwarm.monitor.alarm.AlarmState.UNACKNOWLEDGED;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.alarm.LifeCycle.Circumstances;
import io.evenwarm.monitor.alarm.LifeCycle.Transition;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;

/**
 * The state table, row by row: ISA-18.2-2016 and IEC 62682, state transition diagram (from memory
 * of both); that a latch lasts until it is reset: OPC UA Part 9 v1.05, 4.8; that shelving is a
 * person's, ends by itself, and that suppression is the system's: the same.
 */
final class LifeCycleTest {

    private static final Circumstances PRESENT = new Circumstances(true, false, false, false);
    private static final Circumstances ABSENT = new Circumstances(false, false, false, false);
    private static final Circumstances LATCHED_ABSENT =
            new Circumstances(false, false, false, true);
    private static final Circumstances EXPLAINED = new Circumstances(true, true, false, false);

    private static void expect(
            AlarmState from, Trigger trigger, Circumstances now, AlarmState expected) {
        assertEquals(
                Optional.of(expected),
                LifeCycle.next(from, trigger, now),
                from + " by " + trigger + " with " + now);
    }

    @Test
    void anAlarmThatDoesNotLatchGoesThroughTheFourStatesOfTheDiagram() {
        expect(NORMAL, Trigger.OCCURRED, PRESENT, UNACKNOWLEDGED);
        expect(UNACKNOWLEDGED, Trigger.ACKNOWLEDGED, PRESENT, ACKNOWLEDGED);
        expect(UNACKNOWLEDGED, Trigger.RETURNED, ABSENT, RETURNED_UNACKNOWLEDGED);
        expect(ACKNOWLEDGED, Trigger.RETURNED, ABSENT, NORMAL);
        expect(ACKNOWLEDGED, Trigger.RE_ALARMED, PRESENT, UNACKNOWLEDGED);
        expect(RETURNED_UNACKNOWLEDGED, Trigger.ACKNOWLEDGED, ABSENT, NORMAL);
        expect(RETURNED_UNACKNOWLEDGED, Trigger.OCCURRED, PRESENT, UNACKNOWLEDGED);
    }

    @Test
    void aLatchLastsUntilAPersonResetsIt() {
        expect(UNACKNOWLEDGED, Trigger.RETURNED, LATCHED_ABSENT, LATCHED_UNACKNOWLEDGED);
        expect(ACKNOWLEDGED, Trigger.RETURNED, LATCHED_ABSENT, LATCHED_ACKNOWLEDGED);
        expect(LATCHED_UNACKNOWLEDGED, Trigger.ACKNOWLEDGED, LATCHED_ABSENT, LATCHED_ACKNOWLEDGED);
        expect(LATCHED_UNACKNOWLEDGED, Trigger.OCCURRED, PRESENT, UNACKNOWLEDGED);
        expect(LATCHED_ACKNOWLEDGED, Trigger.RESET, LATCHED_ABSENT, NORMAL);
        expect(LATCHED_ACKNOWLEDGED, Trigger.OCCURRED, PRESENT, UNACKNOWLEDGED);
    }

    @Test
    void aResetIsNoAcknowledgement() {
        expect(LATCHED_UNACKNOWLEDGED, Trigger.RESET, LATCHED_ABSENT, RETURNED_UNACKNOWLEDGED);
    }

    @Test
    void aConditionThatIsThereCanNotBeReset() {
        for (AlarmState state : List.of(NORMAL, UNACKNOWLEDGED, ACKNOWLEDGED)) {
            assertEquals(Optional.empty(), LifeCycle.next(state, Trigger.RESET, PRESENT));
        }
    }

    @Test
    void anyAlarmCanBeShelvedButOneOutOfServiceOrShelvedAlready() {
        for (AlarmState state : EnumSet.complementOf(EnumSet.of(SHELVED, OUT_OF_SERVICE))) {
            expect(state, Trigger.SHELVED, PRESENT, SHELVED);
        }
        assertEquals(Optional.empty(), LifeCycle.next(SHELVED, Trigger.SHELVED, PRESENT));
        assertEquals(Optional.empty(), LifeCycle.next(OUT_OF_SERVICE, Trigger.SHELVED, PRESENT));
    }

    @Test
    void anyAlarmCanBeTakenOutOfService() {
        for (AlarmState state : EnumSet.complementOf(EnumSet.of(OUT_OF_SERVICE))) {
            expect(state, Trigger.TAKEN_OUT_OF_SERVICE, PRESENT, OUT_OF_SERVICE);
        }
    }

    @Test
    void anyAlarmWhoseConditionIsThereIsSuppressedUnlessAPersonPutItAway() {
        for (AlarmState state :
                EnumSet.of(
                        NORMAL,
                        UNACKNOWLEDGED,
                        ACKNOWLEDGED,
                        RETURNED_UNACKNOWLEDGED,
                        LATCHED_UNACKNOWLEDGED,
                        LATCHED_ACKNOWLEDGED)) {
            expect(state, Trigger.SUPPRESSED, EXPLAINED, SUPPRESSED_BY_DESIGN);
        }
        for (AlarmState state : EnumSet.of(SHELVED, OUT_OF_SERVICE, SUPPRESSED_BY_DESIGN)) {
            assertEquals(Optional.empty(), LifeCycle.next(state, Trigger.SUPPRESSED, EXPLAINED));
        }
    }

    @Test
    void whatComesBackIntoViewIsWhatItsConditionSays() {
        for (Trigger trigger : List.of(Trigger.UNSHELVED, Trigger.SHELF_ENDED)) {
            expect(SHELVED, trigger, PRESENT, UNACKNOWLEDGED);
            expect(SHELVED, trigger, ABSENT, NORMAL);
            expect(SHELVED, trigger, LATCHED_ABSENT, LATCHED_UNACKNOWLEDGED);
            expect(SHELVED, trigger, EXPLAINED, SUPPRESSED_BY_DESIGN);
        }
        expect(OUT_OF_SERVICE, Trigger.RETURNED_TO_SERVICE, PRESENT, UNACKNOWLEDGED);
        expect(OUT_OF_SERVICE, Trigger.RETURNED_TO_SERVICE, ABSENT, NORMAL);
        expect(OUT_OF_SERVICE, Trigger.RETURNED_TO_SERVICE, LATCHED_ABSENT, LATCHED_UNACKNOWLEDGED);
        expect(OUT_OF_SERVICE, Trigger.RETURNED_TO_SERVICE, EXPLAINED, SUPPRESSED_BY_DESIGN);
        expect(SUPPRESSED_BY_DESIGN, Trigger.SUPPRESSION_ENDED, PRESENT, UNACKNOWLEDGED);
        expect(SUPPRESSED_BY_DESIGN, Trigger.SUPPRESSION_ENDED, ABSENT, NORMAL);
        expect(
                SUPPRESSED_BY_DESIGN,
                Trigger.SUPPRESSION_ENDED,
                LATCHED_ABSENT,
                LATCHED_UNACKNOWLEDGED);
    }

    @Test
    void onlyTheEndOfSuppressionKeepsAnAcknowledgement() {
        Circumstances seen = new Circumstances(true, false, true, false);
        Circumstances seenLatch = new Circumstances(false, false, true, true);
        expect(SUPPRESSED_BY_DESIGN, Trigger.SUPPRESSION_ENDED, seen, ACKNOWLEDGED);
        expect(SUPPRESSED_BY_DESIGN, Trigger.SUPPRESSION_ENDED, seenLatch, LATCHED_ACKNOWLEDGED);
        expect(SHELVED, Trigger.SHELF_ENDED, seen, UNACKNOWLEDGED);
        expect(OUT_OF_SERVICE, Trigger.RETURNED_TO_SERVICE, seen, UNACKNOWLEDGED);
    }

    @Test
    void thereIsNoOtherTransition() {
        Set<Transition> expected = new HashSet<>();
        add(expected, NORMAL, Trigger.OCCURRED, UNACKNOWLEDGED);
        add(expected, UNACKNOWLEDGED, Trigger.ACKNOWLEDGED, ACKNOWLEDGED);
        add(expected, UNACKNOWLEDGED, Trigger.RETURNED, RETURNED_UNACKNOWLEDGED);
        add(expected, UNACKNOWLEDGED, Trigger.RETURNED, LATCHED_UNACKNOWLEDGED);
        add(expected, ACKNOWLEDGED, Trigger.RETURNED, NORMAL);
        add(expected, ACKNOWLEDGED, Trigger.RETURNED, LATCHED_ACKNOWLEDGED);
        add(expected, ACKNOWLEDGED, Trigger.RE_ALARMED, UNACKNOWLEDGED);
        add(expected, RETURNED_UNACKNOWLEDGED, Trigger.ACKNOWLEDGED, NORMAL);
        add(expected, RETURNED_UNACKNOWLEDGED, Trigger.OCCURRED, UNACKNOWLEDGED);
        add(expected, LATCHED_UNACKNOWLEDGED, Trigger.ACKNOWLEDGED, LATCHED_ACKNOWLEDGED);
        add(expected, LATCHED_UNACKNOWLEDGED, Trigger.OCCURRED, UNACKNOWLEDGED);
        add(expected, LATCHED_UNACKNOWLEDGED, Trigger.RESET, RETURNED_UNACKNOWLEDGED);
        add(expected, LATCHED_ACKNOWLEDGED, Trigger.RESET, NORMAL);
        add(expected, LATCHED_ACKNOWLEDGED, Trigger.OCCURRED, UNACKNOWLEDGED);
        for (AlarmState state : AlarmState.values()) {
            if (state != OUT_OF_SERVICE) {
                add(expected, state, Trigger.TAKEN_OUT_OF_SERVICE, OUT_OF_SERVICE);
            }
            if (state != OUT_OF_SERVICE && state != SHELVED) {
                add(expected, state, Trigger.SHELVED, SHELVED);
            }
            if (!state.isSuppressed()) {
                add(expected, state, Trigger.SUPPRESSED, SUPPRESSED_BY_DESIGN);
            }
        }
        for (AlarmState back : EnumSet.of(NORMAL, UNACKNOWLEDGED, LATCHED_UNACKNOWLEDGED)) {
            add(expected, SHELVED, Trigger.UNSHELVED, back);
            add(expected, SHELVED, Trigger.SHELF_ENDED, back);
            add(expected, OUT_OF_SERVICE, Trigger.RETURNED_TO_SERVICE, back);
            add(expected, SUPPRESSED_BY_DESIGN, Trigger.SUPPRESSION_ENDED, back);
        }
        add(expected, SHELVED, Trigger.UNSHELVED, SUPPRESSED_BY_DESIGN);
        add(expected, SHELVED, Trigger.SHELF_ENDED, SUPPRESSED_BY_DESIGN);
        add(expected, OUT_OF_SERVICE, Trigger.RETURNED_TO_SERVICE, SUPPRESSED_BY_DESIGN);
        add(expected, SUPPRESSED_BY_DESIGN, Trigger.SUPPRESSION_ENDED, ACKNOWLEDGED);
        add(expected, SUPPRESSED_BY_DESIGN, Trigger.SUPPRESSION_ENDED, LATCHED_ACKNOWLEDGED);
        assertEquals(expected, LifeCycle.transitions());
    }

    private static void add(
            Set<Transition> table, AlarmState from, Trigger trigger, AlarmState to) {
        assertTrue(table.add(new Transition(from, trigger, to)), "listed twice");
    }
}
