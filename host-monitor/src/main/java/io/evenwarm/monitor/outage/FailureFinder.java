package io.evenwarm.monitor.outage;

import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.LogEntry;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Makes an event of each failure that the agent found while readings went on, from the log. What
 * comes together, or within {@value #TOGETHER_MINUTES} min, is one event.
 */
public final class FailureFinder {

    private static final int TOGETHER_MINUTES = 30;

    /** So long after a gap, air that is too cold or too warm is its recovery. */
    private static final Duration RECOVERY = Duration.ofHours(6);

    /** How long after its begin a failure is found: in half of the cases, in 19 of 20. */
    private record Found(int medianMinutes, int lateMinutes) {}

    /** Measured in simulated cabinets: {@code docs/evidence.md}, row guard-2. */
    private static final Map<FindingCode, Found> CAUSES =
            Map.of(
                    FindingCode.HEATER_DEAD, new Found(12, 33),
                    FindingCode.HEATER_STUCK_ON, new Found(3, 7),
                    FindingCode.FAN_STOPPED, new Found(4, 150),
                    FindingCode.DOOR_OPEN, new Found(3, 3),
                    FindingCode.CUT_OFF_TRIPPED, new Found(0, 1),
                    FindingCode.OUTPUT_FAILING, new Found(0, 1),
                    FindingCode.BLIND, new Found(0, 1),
                    FindingCode.RELAY_CHATTER, new Found(0, 60),
                    FindingCode.ROOM_TOO_COLD, new Found(0, 60),
                    FindingCode.ROOM_TOO_WARM, new Found(0, 60));

    /** What a failure brings, and what is an event where no cause was found. */
    private static final Map<FindingCode, Found> CONSEQUENCES =
            Map.of(
                    FindingCode.TOO_COLD, new Found(0, 60),
                    FindingCode.TOO_WARM, new Found(0, 30));

    private FailureFinder() {}

    /**
     * The events, the oldest first.
     *
     * @param log entries that touch the span in which events are looked for
     * @param gaps of the same cabinet and time
     * @param newest when the newest reading was made
     */
    public static List<Outage> of(
            CabinetKey key, List<LogEntry> log, List<Outage> gaps, Instant newest) {
        List<LogEntry> found =
                log.stream()
                        .filter(entry -> entry.cabinet().equals(Optional.of(key.cabinet())))
                        .filter(entry -> isCause(entry) || isConsequence(entry))
                        .sorted(Comparator.comparing(LogEntry::begin))
                        .toList();
        List<Outage> events = new ArrayList<>();
        List<LogEntry> together = new ArrayList<>();
        Instant until = Instant.MIN;
        for (LogEntry entry : found) {
            if (!together.isEmpty()
                    && entry.begin().isAfter(until.plusSeconds(TOGETHER_MINUTES * 60L))) {
                add(events, key, together, gaps, newest);
                together.clear();
                until = Instant.MIN;
            }
            together.add(entry);
            Instant end = entry.end().orElse(newest);
            until = end.isAfter(until) ? end : until;
        }
        if (!together.isEmpty()) {
            add(events, key, together, gaps, newest);
        }
        return events;
    }

    private static boolean isCause(LogEntry entry) {
        return entry.code().map(CAUSES::containsKey).orElse(false);
    }

    private static boolean isConsequence(LogEntry entry) {
        return entry.code().map(CONSEQUENCES::containsKey).orElse(false);
    }

    private static void add(
            List<Outage> events,
            CabinetKey key,
            List<LogEntry> together,
            List<Outage> gaps,
            Instant newest) {
        Instant begin = together.get(0).begin();
        if (together.stream().noneMatch(FailureFinder::isCause)
                && gaps.stream()
                        .anyMatch(
                                gap ->
                                        !begin.isBefore(gap.begin().earliest())
                                                && begin.isBefore(
                                                        gap.end().latest().plus(RECOVERY)))) {
            return;
        }
        Set<String> words = new LinkedHashSet<>();
        together.stream()
                .filter(FailureFinder::isCause)
                .map(FailureFinder::words)
                .forEach(words::add);
        together.stream().map(FailureFinder::words).forEach(words::add);
        List<String> evidence = new ArrayList<>();
        Instant end = begin;
        boolean isOpen = false;
        for (LogEntry entry : together) {
            evidence.add(entry.words());
            Instant ended = entry.end().orElse(newest);
            end = ended.isAfter(end) ? ended : end;
            isOpen |= entry.end().isEmpty();
        }
        if (isOpen) {
            evidence.add("it was still there at the newest reading");
        }
        Found first = found(together.get(0));
        events.add(
                new Outage(
                        key,
                        Outage.Kind.FAILURE,
                        words.stream().limit(3).collect(Collectors.joining(", ")),
                        new Edge(
                                begin.minusSeconds(first.lateMinutes * 60L),
                                begin.minusSeconds(first.medianMinutes * 60L),
                                begin),
                        new Edge(end, end, end),
                        Set.of(),
                        Outage.Heat.READ,
                        evidence));
    }

    private static Found found(LogEntry entry) {
        return entry.code()
                .flatMap(
                        code ->
                                Optional.ofNullable(CAUSES.get(code))
                                        .or(() -> Optional.ofNullable(CONSEQUENCES.get(code))))
                .orElse(new Found(0, 0));
    }

    private static String words(LogEntry entry) {
        return entry.code().map(code -> code.value().replace('-', ' ')).orElse("");
    }
}
