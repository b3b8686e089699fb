package io.evenwarm.monitor.alert;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.monitor.alarm.AlarmChange;
import io.evenwarm.monitor.alarm.AlarmState;
import io.evenwarm.monitor.alarm.AlarmStatus;
import io.evenwarm.monitor.alarm.Now;
import io.evenwarm.monitor.alarm.Subject;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.Liveness;
import io.evenwarm.monitor.notice.CabinetFacts;
import io.evenwarm.quantity.Temperature;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Deque;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.function.Supplier;

/** What a notice says of the cabinets of an event. Used by the keeper's thread only. */
final class EventFacts {

    /** Over so long the trend is taken. */
    static final long TREND_NANOS = 600_000_000_000L;

    /** A shorter time says nothing of where the air goes. */
    private static final long TREND_LEAST_NANOS = 120_000_000_000L;

    private static final long POINT_NANOS = 10_000_000_000L;
    private static final double NANOS_PER_HOUR = 3.6e12;

    /** As near as this a cabinet is warm enough for another one's tubs, K. */
    private static final double SAME_KELVIN = 0.5;

    private static final int REFUGES_MAX = 3;

    private final Supplier<List<Tub>> tubs;
    private final Function<CabinetKey, Optional<String>> assumptions;
    private final Map<CabinetKey, Deque<Point>> courses = new HashMap<>();
    private List<LiveCabinet> live = List.of();

    /** Asked once a round, since a hundred events of one round have the same tubs. */
    private Optional<List<Tub>> tubsNow = Optional.empty();

    private record Point(long nanos, double celsius) {}

    /**
     * @param tubs those that stand somewhere now; asked once a round
     * @param assumptions what the time left of a cabinet's eggs rests on
     */
    EventFacts(Supplier<List<Tub>> tubs, Function<CabinetKey, Optional<String>> assumptions) {
        this.tubs = tubs;
        this.assumptions = assumptions;
    }

    /** What is live now; once a round. */
    void see(List<LiveCabinet> cabinets, Now now) {
        live = cabinets;
        tubsNow = Optional.empty();
        for (LiveCabinet cabinet : cabinets) {
            Optional<Temperature> air = cabinet.snapshot().processValue();
            if (cabinet.liveness() != Liveness.LIVE || air.isEmpty()) {
                continue;
            }
            Deque<Point> course = courses.computeIfAbsent(cabinet.key(), key -> new ArrayDeque<>());
            if (course.isEmpty() || now.nanos() - course.getLast().nanos() >= POINT_NANOS) {
                course.addLast(new Point(now.nanos(), air.get().celsius()));
            }
            while (now.nanos() - course.getFirst().nanos() > TREND_NANOS) {
                course.removeFirst();
            }
        }
    }

    /** The facts of an event, the first out first, a cabinet once. */
    List<CabinetFacts> of(List<AlarmStatus> alarms, Now now) {
        Map<Subject, List<AlarmStatus>> bySubject = new LinkedHashMap<>();
        for (AlarmStatus alarm : alarms) {
            boolean isPutAway =
                    alarm.state() == AlarmState.SHELVED
                            || alarm.state() == AlarmState.OUT_OF_SERVICE;
            if (!isPutAway) {
                bySubject
                        .computeIfAbsent(alarm.key().subject(), subject -> new ArrayList<>())
                        .add(alarm);
            }
        }
        List<Tub> there = tubsNow();
        return bySubject.entrySet().stream()
                .map(each -> facts(each.getKey(), each.getValue(), there, now))
                .toList();
    }

    /** What is over with an event, a cabinet once. */
    List<CabinetFacts> over(List<AlarmChange> changes) {
        Map<Subject, List<AlarmChange>> bySubject = new LinkedHashMap<>();
        for (AlarmChange change : changes) {
            bySubject
                    .computeIfAbsent(change.key().subject(), subject -> new ArrayList<>())
                    .add(change);
        }
        List<Tub> there = tubsNow();
        return bySubject.entrySet().stream()
                .map(each -> over(each.getKey(), each.getValue(), there))
                .toList();
    }

    private List<Tub> tubsNow() {
        List<Tub> there = tubsNow.orElseGet(tubs);
        tubsNow = Optional.of(there);
        return there;
    }

    private CabinetFacts over(Subject subject, List<AlarmChange> changes, List<Tub> there) {
        Optional<CabinetKey> key = subject.cabinetKey();
        Optional<CabinetSnapshot> snapshot = key.flatMap(this::snapshotOf);
        return new CabinetFacts(
                subject.toString(),
                String.join(
                        ", ",
                        changes.stream().map(change -> change.key().trouble()).distinct().toList()),
                changes.stream()
                        .map(AlarmChange::began)
                        .min(Comparator.naturalOrder())
                        .orElseThrow(),
                at(snapshot, ProbePlace.Kind.TOP),
                at(snapshot, ProbePlace.Kind.MIDDLE),
                at(snapshot, ProbePlace.Kind.BOTTOM),
                key.map(this::trend).orElse(OptionalDouble.empty()),
                Optional.empty(),
                key.map(cabinet -> in(cabinet, there)).orElse(List.of()),
                List.of(),
                "Look why it happened, when it suits you.",
                List.of());
    }

    private static List<String> in(CabinetKey cabinet, List<Tub> there) {
        return there.stream().filter(tub -> tub.key().equals(cabinet)).map(Tub::name).toList();
    }

    /** Empty when the newest is not true any more. */
    private Optional<CabinetSnapshot> snapshotOf(CabinetKey key) {
        return live.stream()
                .filter(each -> each.key().equals(key))
                .filter(each -> each.liveness() == Liveness.LIVE)
                .map(LiveCabinet::snapshot)
                .findFirst();
    }

    private CabinetFacts facts(
            Subject subject, List<AlarmStatus> alarms, List<Tub> there, Now now) {
        AlarmStatus main = main(alarms);
        Optional<CabinetKey> key = subject.cabinetKey();
        Optional<CabinetSnapshot> snapshot = key.flatMap(this::snapshotOf);
        return new CabinetFacts(
                subject.toString(),
                what(alarms),
                alarms.stream()
                        .map(alarm -> alarm.began(now))
                        .min(Comparator.naturalOrder())
                        .orElse(now.wall()),
                at(snapshot, ProbePlace.Kind.TOP),
                at(snapshot, ProbePlace.Kind.MIDDLE),
                at(snapshot, ProbePlace.Kind.BOTTOM),
                key.map(this::trend).orElse(OptionalDouble.empty()),
                alarms.stream()
                        .flatMap(alarm -> alarm.timeLeft().stream())
                        .min(Comparator.naturalOrder()),
                key.flatMap(assumptions).orElse(""),
                key.map(cabinet -> in(cabinet, there)).orElse(List.of()),
                alarms.stream()
                        .map(alarm -> alarm.words().action())
                        .filter(action -> !action.isBlank())
                        .distinct()
                        .toList(),
                main.words().advice(),
                key.map(this::refuges).orElse(List.of()));
    }

    /** The one that explains the others, else the most pressing, else the first out. */
    private static AlarmStatus main(List<AlarmStatus> alarms) {
        return alarms.stream()
                .min(
                        Comparator.<AlarmStatus, Boolean>comparing(
                                        alarm -> alarm.state() == AlarmState.SUPPRESSED_BY_DESIGN)
                                .thenComparing(AlarmStatus::priority, Comparator.reverseOrder()))
                .orElseThrow();
    }

    private static String what(List<AlarmStatus> alarms) {
        return String.join(
                ", ", alarms.stream().map(alarm -> alarm.key().trouble()).distinct().toList());
    }

    private static Optional<Temperature> at(
            Optional<CabinetSnapshot> snapshot, ProbePlace.Kind kind) {
        return snapshot.flatMap(
                there ->
                        there.probes().stream()
                                .filter(probe -> probe.place().kind() == kind)
                                .flatMap(probe -> celsius(probe).stream())
                                .findFirst());
    }

    private static Optional<Temperature> celsius(ProbeReading probe) {
        return probe.reading()
                .quantity()
                .flatMap(
                        quantity ->
                                quantity.<Optional<Temperature>>fold(
                                        Optional::of, humidity -> Optional.empty()));
    }

    private OptionalDouble trend(CabinetKey key) {
        Deque<Point> course = courses.get(key);
        if (course == null || course.size() < 2) {
            return OptionalDouble.empty();
        }
        long nanos = course.getLast().nanos() - course.getFirst().nanos();
        return nanos < TREND_LEAST_NANOS
                ? OptionalDouble.empty()
                : OptionalDouble.of(
                        (course.getLast().celsius() - course.getFirst().celsius())
                                / nanos
                                * NANOS_PER_HOUR);
    }

    /** Sound cabinets that hold this one's set point now; how full they are nobody knows. */
    private List<String> refuges(CabinetKey key) {
        Optional<Double> wanted =
                live.stream()
                        .filter(each -> each.key().equals(key))
                        .map(each -> each.snapshot().setPoint().celsius())
                        .findFirst();
        return live.stream()
                .filter(each -> !each.key().equals(key) && wanted.isPresent())
                .filter(each -> each.liveness() == Liveness.LIVE)
                .filter(each -> each.snapshot().findings().isEmpty())
                .filter(
                        each ->
                                each.snapshot()
                                        .processValue()
                                        .filter(
                                                air ->
                                                        Math.abs(air.celsius() - wanted.get())
                                                                <= SAME_KELVIN)
                                        .isPresent())
                .map(each -> Subject.of(each.key()).toString())
                .limit(REFUGES_MAX)
                .toList();
    }
}
