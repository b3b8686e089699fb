package io.evenwarm.agent.journal;

import static io.evenwarm.agent.Snapshots.celsius;
import static io.evenwarm.agent.Snapshots.changed;
import static io.evenwarm.agent.Snapshots.finding;
import static io.evenwarm.agent.Snapshots.healthy;
import static io.evenwarm.agent.Snapshots.with;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.Snapshots;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.ControlReport;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Event;
import io.evenwarm.message.JournalRecord.Readings;
import io.evenwarm.message.Moment;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

final class SnapshotDigestTest {

    private final SnapshotDigest digest = new SnapshotDigest(5);
    private final List<JournalRecord> kept = new ArrayList<>();

    private void tick(CabinetSnapshot snapshot) {
        kept.addAll(digest.digest(snapshot));
    }

    private List<Event> events() {
        return kept.stream().filter(Event.class::isInstance).map(Event.class::cast).toList();
    }

    private List<Readings> readings() {
        return kept.stream().filter(Readings.class::isInstance).map(Readings.class::cast).toList();
    }

    @Test
    void readingsComeAtTheFirstTickAndThenEveryFiveSeconds() {
        for (long tick = 1; tick <= 16; tick++) {
            tick(healthy("north", tick, false));
        }
        assertEquals(
                List.of(1L, 6L, 11L, 16L),
                readings().stream()
                        .map(each -> each.moment().monotonicNanos() / 1_000_000_000)
                        .toList());
    }

    @Test
    void aTickThatComesAMillisecondEarlyDoesNotCostAWholeTick() {
        for (long tick = 1; tick <= 60; tick++) {
            CabinetSnapshot exact = healthy("north", tick, false);
            long jitter = tick % 2 == 0 ? -1_000_000 : 1_000_000;
            tick(at(exact, exact.moment().monotonicNanos() + jitter));
        }
        assertEquals(12, readings().size(), "readings in a minute");
    }

    @Test
    void theHeatersShareIsTheShareOfTheTicksSinceTheLastReading() {
        for (long tick = 1; tick <= 11; tick++) {
            // On in ticks 2 and 3 of the first stretch, in 7 to 10 of the second.
            tick(healthy("north", tick, tick == 2 || tick == 3 || (tick >= 7 && tick <= 10)));
        }
        assertEquals(
                List.of(0.0, 0.4, 0.8),
                readings().stream().map(Readings::heaterOnFraction).toList());
    }

    @Test
    void eachCabinetHasItsOwnShare() {
        for (long tick = 1; tick <= 6; tick++) {
            tick(healthy("north", tick, true));
            tick(healthy("south", tick, false));
        }
        assertEquals(
                List.of(1.0, 0.0, 1.0, 0.0),
                readings().stream().map(Readings::heaterOnFraction).toList());
    }

    @Test
    void aFindingIsAnEventWhenItIsRaisedAndWhenItIsCleared() {
        tick(healthy("north", 1, false));
        tick(with(healthy("north", 2, false), List.of(finding(FindingCode.TOO_WARM, 2))));
        tick(with(healthy("north", 3, false), List.of(finding(FindingCode.TOO_WARM, 2))));
        tick(healthy("north", 4, false));
        assertEquals(
                List.of(Event.Kind.FINDING_RAISED, Event.Kind.FINDING_CLEARED),
                events().stream().map(Event::kind).toList());
        assertEquals(FindingCode.TOO_WARM, events().get(1).finding().orElseThrow().code());
    }

    @Test
    void aFindingThatHoldsAtTheFirstTickIsRaisedThen() {
        tick(with(healthy("north", 1, false), List.of(finding(FindingCode.BLIND, 1))));
        assertEquals(Event.Kind.FINDING_RAISED, events().get(0).kind());
    }

    @Test
    void commandsLeaveTheirMark() {
        CabinetSnapshot first = healthy("north", 1, false);
        tick(changed(first, celsius(31.5), GuardState.TRIPPED, List.of(), false));
        tick(changed(first, celsius(31.5), GuardState.TRIPPED, List.of(), true));
        tick(changed(first, celsius(31.5), GuardState.ALLOWING, List.of(), true));
        tick(changed(first, celsius(30), GuardState.ALLOWING, List.of(), true));
        assertEquals(
                List.of(
                        Event.Kind.SILENCED,
                        Event.Kind.CUT_OFF_RESET,
                        Event.Kind.SET_POINT_CHANGED),
                events().stream().map(Event::kind).toList());
        assertEquals("set point changed from 31.50 °C to 30.00 °C", events().get(2).words());
    }

    @Test
    void plannedWorkAndTuningLeaveTheirMarkWhenTheyBeginAndEnd() {
        CabinetSnapshot first = healthy("north", 1, false);
        Optional<Long> end = Optional.of(first.moment().monotonicNanos() + 900_000_000_000L);
        ControlReport testing =
                new ControlReport(1, Optional.of("step test, 2 min"), Optional.empty(), List.of());
        tick(first);
        tick(first.withWork(end, Optional.empty()));
        tick(first.withWork(end, Optional.of(testing)));
        tick(first.withWork(Optional.empty(), Optional.of(testing)));
        tick(first);
        assertEquals(
                List.of(
                        Event.Kind.WORK_BEGUN,
                        Event.Kind.TUNING_BEGUN,
                        Event.Kind.WORK_ENDED,
                        Event.Kind.TUNING_ENDED),
                events().stream().map(Event::kind).toList());
        assertEquals("planned work begun, for 15 min at most", events().get(0).words());
    }

    @Test
    void aRampOfTheSetPointIsToldInStepsAndWhereItRests() {
        CabinetSnapshot first = healthy("north", 1, false);
        for (int step = 0; step <= 25; step++) {
            tick(
                    changed(
                            first,
                            celsius(31.5 - step / 100.0),
                            GuardState.ALLOWING,
                            List.of(),
                            false));
        }
        tick(changed(first, celsius(31.25), GuardState.ALLOWING, List.of(), false));
        assertEquals(3, events().size(), events().toString());
        assertTrue(events().get(2).words().endsWith("to 31.25 °C"), events().toString());
    }

    private static CabinetSnapshot at(CabinetSnapshot base, long monotonicNanos) {
        return Snapshots.at(
                base, new Moment(base.moment().boot(), monotonicNanos, base.moment().wall(), true));
    }
}
