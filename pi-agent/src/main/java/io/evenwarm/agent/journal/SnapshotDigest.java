package io.evenwarm.agent.journal;

import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.ControlReport;
import io.evenwarm.message.Finding;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Event;
import io.evenwarm.message.JournalRecord.Event.Kind;
import io.evenwarm.message.JournalRecord.Readings;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * Turns the snapshots of every tick into the few records that are worth keeping: the readings at a
 * steady pace, and an event at each change.
 *
 * <p>Pure but for its memory of each cabinet's last snapshot. The records carry sequence 0: their
 * numbers are given when they are written, so that a record that is never written leaves no gap.
 */
public final class SnapshotDigest {

    private static final long NANOS_PER_SECOND = 1_000_000_000L;

    /** A programme's ramp is told in steps of this, and where it comes to rest: not each second. */
    private static final double RAMP_STEP_KELVIN = 0.1;

    private static final long NANOS_PER_MILLI = 1_000_000L;

    /** Shares are kept to 0.01 %: finer than any relay can make them. */
    private static final double SHARE_STEPS = 10_000;

    private static final List<String> TUNING_TESTS = List.of("step", "relay");

    private final long intervalNanos;
    private final Map<CabinetName, Track> tracks = new HashMap<>();

    /**
     * @param intervalSeconds between two readings of a cabinet, s; above 0
     */
    public SnapshotDigest(double intervalSeconds) {
        this.intervalNanos = (long) (intervalSeconds * 1e9);
    }

    /** What to keep because of this snapshot, events first. */
    public List<JournalRecord> digest(CabinetSnapshot snapshot) {
        Track track =
                tracks.computeIfAbsent(
                        snapshot.cabinet(),
                        name -> new Track(snapshot.moment().monotonicNanos(), snapshot.setPoint()));
        List<JournalRecord> records = new ArrayList<>();
        events(track, snapshot, records);
        track.previous = Optional.of(snapshot);
        track.ticks++;
        if (snapshot.heaterOn()) {
            track.heatedTicks++;
        }
        if (track.isDue(snapshot.moment().monotonicNanos(), intervalNanos)) {
            records.add(readings(snapshot, (double) track.heatedTicks / track.ticks));
            track.ticks = 0;
            track.heatedTicks = 0;
        }
        return records;
    }

    private static Readings readings(CabinetSnapshot snapshot, double heaterOnFraction) {
        long atNanos = snapshot.moment().monotonicNanos();
        return new Readings(
                0,
                snapshot.moment(),
                snapshot.cabinet(),
                snapshot.probes().stream().map(probe -> toWholeMillis(probe, atNanos)).toList(),
                snapshot.setPoint(),
                snapshot.limits(),
                new Duty(roundShare(snapshot.duty().fraction())),
                roundShare(heaterOnFraction),
                snapshot.guard());
    }

    private static double roundShare(double share) {
        return Math.round(share * SHARE_STEPS) / SHARE_STEPS;
    }

    /** A sample's age in whole milliseconds takes two bytes less, at each reading of each probe. */
    private static ProbeReading toWholeMillis(ProbeReading probe, long atNanos) {
        Reading reading =
                probe.reading()
                        .fold(
                                good ->
                                        new Reading.Good(
                                                good.value(),
                                                roundAge(good.sampledAtNanos(), atNanos)),
                                uncertain ->
                                        new Reading.Uncertain(
                                                uncertain.value(),
                                                uncertain.doubt(),
                                                roundAge(uncertain.sampledAtNanos(), atNanos)),
                                bad ->
                                        new Reading.Bad(
                                                bad.doubt(),
                                                roundAge(bad.sampledAtNanos(), atNanos)));
        return new ProbeReading(probe.probe(), probe.place(), reading);
    }

    private static long roundAge(long sampledAtNanos, long atNanos) {
        return atNanos
                - Math.floorDiv(atNanos - sampledAtNanos + NANOS_PER_MILLI / 2, NANOS_PER_MILLI)
                        * NANOS_PER_MILLI;
    }

    private static void events(Track track, CabinetSnapshot now, List<JournalRecord> records) {
        Optional<CabinetSnapshot> before = track.previous;
        List<Finding> old = before.map(CabinetSnapshot::findings).orElse(List.of());
        for (Finding finding : now.findings()) {
            if (old.stream().noneMatch(finding::isSameTroubleAs)) {
                records.add(event(now, Kind.FINDING_RAISED, Optional.of(finding), words(finding)));
            }
        }
        for (Finding finding : old) {
            if (now.findings().stream().noneMatch(finding::isSameTroubleAs)) {
                records.add(event(now, Kind.FINDING_CLEARED, Optional.of(finding), words(finding)));
            }
        }
        before.ifPresent(previous -> changes(track, previous, now, records));
    }

    private static void changes(
            Track track, CabinetSnapshot before, CabinetSnapshot now, List<JournalRecord> records) {
        if (before.guard() == GuardState.TRIPPED && now.guard() != GuardState.TRIPPED) {
            records.add(event(now, Kind.CUT_OFF_RESET, Optional.empty(), "cut-off reset"));
        }
        if (track.isSetPointNews(before.setPoint(), now.setPoint())) {
            records.add(
                    event(
                            now,
                            Kind.SET_POINT_CHANGED,
                            Optional.empty(),
                            "set point changed from "
                                    + celsius(track.toldSetPoint)
                                    + " to "
                                    + celsius(now.setPoint())));
            track.toldSetPoint = now.setPoint();
        }
        workAndTuning(before, now, records);
        if (!before.silenced() && now.silenced()) {
            records.add(event(now, Kind.SILENCED, Optional.empty(), "buzzer silenced"));
        }
    }

    private static void workAndTuning(
            CabinetSnapshot before, CabinetSnapshot now, List<JournalRecord> records) {
        Optional<Long> workBefore = before.plannedWorkUntilNanos();
        Optional<Long> work = now.plannedWorkUntilNanos();
        if (work.isPresent() && !work.equals(workBefore)) {
            long seconds = (work.get() - now.moment().monotonicNanos()) / NANOS_PER_SECOND;
            records.add(
                    event(
                            now,
                            Kind.WORK_BEGUN,
                            Optional.empty(),
                            "planned work begun, for "
                                    + Math.max(1, Math.round(seconds / 60.0))
                                    + " min at most"));
        } else if (work.isEmpty() && workBefore.isPresent()) {
            records.add(event(now, Kind.WORK_ENDED, Optional.empty(), "planned work ended"));
        }
        Optional<String> testBefore = tuningTest(before);
        Optional<String> test = tuningTest(now);
        if (testBefore.isEmpty() && test.isPresent()) {
            records.add(
                    event(now, Kind.TUNING_BEGUN, Optional.empty(), test.get() + " test begun"));
        } else if (testBefore.isPresent() && test.isEmpty()) {
            String found =
                    now.control()
                            .flatMap(ControlReport::tuning)
                            .map(
                                    tuning ->
                                            tuning.failure()
                                                    .orElse("it found constants for control"))
                            .orElse("what it found is not known");
            records.add(
                    event(
                            now,
                            Kind.TUNING_ENDED,
                            Optional.empty(),
                            testBefore.get() + " test ended: " + found));
        }
    }

    /** "step" or "relay" while such a test of tuning is under way. */
    private static Optional<String> tuningTest(CabinetSnapshot snapshot) {
        Optional<String> activity = snapshot.control().flatMap(ControlReport::activity);
        // Asked twice in each tick, and hardly ever anything is under way.
        return activity.isEmpty()
                ? Optional.empty()
                : TUNING_TESTS.stream()
                        .filter(test -> activity.get().startsWith(test + " test"))
                        .findFirst();
    }

    private static Event event(
            CabinetSnapshot now, Kind kind, Optional<Finding> finding, String words) {
        return new Event(0, now.moment(), Optional.of(now.cabinet()), kind, finding, words);
    }

    private static String words(Finding finding) {
        return finding.evidence();
    }

    private static String celsius(Temperature temperature) {
        return String.format(Locale.ROOT, "%.2f °C", temperature.celsius());
    }

    /** What is remembered of one cabinet. */
    private static final class Track {
        private Optional<CabinetSnapshot> previous = Optional.empty();
        private Temperature toldSetPoint;
        private long dueNanos;
        private long ticks;
        private long heatedTicks;

        Track(long firstNanos, Temperature setPoint) {
            this.dueNanos = firstNanos;
            this.toldSetPoint = setPoint;
        }

        /** Whether it has moved by a step since it was told, or has come to rest elsewhere. */
        boolean isSetPointNews(Temperature before, Temperature now) {
            double moved = Math.abs(now.minus(toldSetPoint).kelvin());
            return moved >= RAMP_STEP_KELVIN || (moved > 0 && now.equals(before));
        }

        /**
         * Whether readings are due, keeping to a grid so that the mean pace holds. A tick that
         * comes a little early counts, or a jitter of a millisecond would cost a whole tick.
         */
        boolean isDue(long nowNanos, long intervalNanos) {
            if (nowNanos - dueNanos < -intervalNanos / 10) {
                return false;
            }
            dueNanos += intervalNanos;
            if (nowNanos - dueNanos >= 0) {
                dueNanos = nowNanos + intervalNanos;
            }
            return true;
        }
    }
}
