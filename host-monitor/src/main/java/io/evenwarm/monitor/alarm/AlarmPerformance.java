package io.evenwarm.monitor.alarm;

import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Deque;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * How well alarms serve people over a span of time, by the figures of ISA-18.2, IEC 62682 and EEMUA
 * 191 (from memory of them): few, spread in time, of the right priorities, none that flutters or
 * stands for ever. An annunciation is an alarm that comes into view: one that occurs, is
 * re-alarmed, or comes back from where it was put away. Wall times count, as in the log.
 *
 * @param span what was looked at; periods are counted from its begin
 * @param annunciations how many there were
 * @param byPriority how many of each priority
 * @param mostInTenMinutes most in one period of ten minutes
 * @param mostInOneHour most in one period of an hour
 * @param busyTenMinutes share of ten-minute periods with more than 10
 * @param busyHours share of hours with more than 30
 * @param floods how often a flood began: a ten-minute period with more than 10, up to the first
 *     with fewer than 5
 * @param floodShare share of the span in flood
 * @param frequent the ten most frequent, the most frequent first
 * @param chattering those that were annunciated three times within one minute
 * @param stale those that stood for more than 24 h without a break
 * @param mostStaleOnADay how many of them there were at most on one day, which is what the standard
 *     sets a bar to; days are counted from the span's begin
 * @param standing how many are active at the end
 * @param putAway how many are shelved, suppressed or out of service at the end
 */
public record AlarmPerformance(
        TimeSpan span,
        int annunciations,
        Map<Priority, Integer> byPriority,
        int mostInTenMinutes,
        int mostInOneHour,
        double busyTenMinutes,
        double busyHours,
        int floods,
        double floodShare,
        List<Frequent> frequent,
        Set<String> chattering,
        Set<String> stale,
        int mostStaleOnADay,
        int standing,
        int putAway) {

    static final int FLOOD_BEGINS_ABOVE = 10;
    static final int FLOOD_ENDS_BELOW = 5;
    static final int BUSY_HOUR_ABOVE = 30;
    static final int FREQUENT_MAX = 10;
    static final int CHATTERING_COUNT = 3;
    static final Duration CHATTERING_WITHIN = Duration.ofMinutes(1);
    static final Duration STALE_AFTER = Duration.ofHours(24);

    private static final Duration TEN_MINUTES = Duration.ofMinutes(10);
    private static final Duration HOUR = Duration.ofHours(1);
    private static final Duration DAY = Duration.ofDays(1);
    private static final double NANOS_PER_HOUR = 3.6e12;

    /** One alarm, by its name for a person, and how often it was annunciated. */
    public record Frequent(String alarm, int count) {}

    /**
     * What counts of a change.
     *
     * @param alarm its name for a person
     * @param from its state before
     * @param to its state after
     * @param priority in force from then on
     * @param at when, by the wall clock
     */
    public record Step(
            String alarm, AlarmState from, AlarmState to, Priority priority, Instant at) {

        public static Step of(AlarmChange change) {
            return new Step(
                    change.key().toString(),
                    change.from(),
                    change.to(),
                    change.priority(),
                    change.at().wall());
        }

        private boolean isAnnunciation() {
            return to == AlarmState.UNACKNOWLEDGED && from != AlarmState.UNACKNOWLEDGED;
        }
    }

    public AlarmPerformance {
        byPriority = Map.copyOf(byPriority);
        frequent = List.copyOf(frequent);
        chattering = Set.copyOf(chattering);
        stale = Set.copyOf(stale);
    }

    /**
     * Counts what happened in a span.
     *
     * @param steps in the order in which they happened; those before the span say only how alarms
     *     stood when it began
     * @param span at least a nanosecond long
     */
    public static AlarmPerformance of(List<Step> steps, TimeSpan span) {
        if (span.length().isZero()) {
            throw new IllegalArgumentException("nothing can be said of no time at " + span.from());
        }
        Tally tally = new Tally(span);
        steps.stream().filter(step -> step.at().isBefore(span.to())).forEach(tally::add);
        return tally.result();
    }

    /** Annunciations an hour, on average. */
    public double anHour() {
        return annunciations / (span.length().toNanos() / NANOS_PER_HOUR);
    }

    /** Share of a priority in all annunciations; 0 where there was none. */
    public double share(Priority priority) {
        return annunciations == 0
                ? 0
                : byPriority.getOrDefault(priority, 0) / (double) annunciations;
    }

    /** Share of the most frequent ones in all annunciations; 0 where there was none. */
    public double frequentShare() {
        return annunciations == 0
                ? 0
                : frequent.stream().mapToInt(Frequent::count).sum() / (double) annunciations;
    }

    /** Counts. */
    private static final class Tally {

        private final TimeSpan span;
        private final int[] tenMinutes;
        private final int[] hours;
        private final int[] staleOnDay;
        private final Map<Priority, Integer> byPriority = new EnumMap<>(Priority.class);
        private final Map<String, Integer> counts = new LinkedHashMap<>();
        private final Map<String, Deque<Instant>> recent = new LinkedHashMap<>();
        private final Map<String, AlarmState> states = new LinkedHashMap<>();
        private final Map<String, Instant> activeSince = new LinkedHashMap<>();
        private final Set<String> chattering = new LinkedHashSet<>();
        private final Set<String> stale = new LinkedHashSet<>();
        private int annunciations;

        Tally(TimeSpan span) {
            this.span = span;
            tenMinutes = new int[periods(TEN_MINUTES)];
            hours = new int[periods(HOUR)];
            staleOnDay = new int[periods(DAY)];
        }

        /** How many periods the span has, the last one perhaps cut short. */
        private int periods(Duration length) {
            return (int) ((span.length().toNanos() + length.toNanos() - 1) / length.toNanos());
        }

        void add(Step step) {
            states.put(step.alarm(), step.to());
            if (isActive(step.to())) {
                activeSince.putIfAbsent(step.alarm(), step.at());
            } else {
                endActive(step.alarm(), step.at());
            }
            if (step.isAnnunciation() && !step.at().isBefore(span.from())) {
                annunciate(step);
            }
        }

        private void annunciate(Step step) {
            annunciations++;
            long sinceNanos = Duration.between(span.from(), step.at()).toNanos();
            tenMinutes[(int) (sinceNanos / TEN_MINUTES.toNanos())]++;
            hours[(int) (sinceNanos / HOUR.toNanos())]++;
            byPriority.merge(step.priority(), 1, Integer::sum);
            counts.merge(step.alarm(), 1, Integer::sum);
            Deque<Instant> last = recent.computeIfAbsent(step.alarm(), same -> new ArrayDeque<>());
            last.addLast(step.at());
            if (last.size() > CHATTERING_COUNT) {
                last.removeFirst();
            }
            if (last.size() == CHATTERING_COUNT
                    && Duration.between(last.getFirst(), step.at()).compareTo(CHATTERING_WITHIN)
                            <= 0) {
                chattering.add(step.alarm());
            }
        }

        private static boolean isActive(AlarmState state) {
            return state == AlarmState.UNACKNOWLEDGED || state == AlarmState.ACKNOWLEDGED;
        }

        private void endActive(String alarm, Instant at) {
            Instant since = activeSince.remove(alarm);
            boolean isInSpan = !at.isBefore(span.from());
            if (since != null
                    && isInSpan
                    && Duration.between(since, at).compareTo(STALE_AFTER) > 0) {
                stale.add(alarm);
                for (int day = day(since.plus(STALE_AFTER)); day <= day(at); day++) {
                    staleOnDay[day]++;
                }
            }
        }

        /** The day of the span on which that is; the first or the last one, if it is not in it. */
        private int day(Instant at) {
            long days = Duration.between(span.from(), at).toDays();
            return (int) Math.max(0, Math.min(staleOnDay.length - 1, days));
        }

        AlarmPerformance result() {
            for (String alarm : List.copyOf(activeSince.keySet())) {
                endActive(alarm, span.to());
            }
            List<Frequent> frequent = new ArrayList<>();
            counts.forEach((alarm, count) -> frequent.add(new Frequent(alarm, count)));
            frequent.sort(
                    Comparator.comparingInt(Frequent::count)
                            .reversed()
                            .thenComparing(Frequent::alarm));
            int floods = 0;
            int inFlood = 0;
            boolean isFlood = false;
            for (int count : tenMinutes) {
                if (!isFlood && count > FLOOD_BEGINS_ABOVE) {
                    isFlood = true;
                    floods++;
                } else if (count < FLOOD_ENDS_BELOW) {
                    isFlood = false;
                }
                inFlood += isFlood ? 1 : 0;
            }
            return new AlarmPerformance(
                    span,
                    annunciations,
                    byPriority,
                    most(tenMinutes),
                    most(hours),
                    shareAbove(tenMinutes, FLOOD_BEGINS_ABOVE),
                    shareAbove(hours, BUSY_HOUR_ABOVE),
                    floods,
                    inFlood / (double) tenMinutes.length,
                    frequent.subList(0, Math.min(FREQUENT_MAX, frequent.size())),
                    chattering,
                    stale,
                    most(staleOnDay),
                    (int) states.values().stream().filter(Tally::isActive).count(),
                    (int) states.values().stream().filter(AlarmState::isSuppressed).count());
        }

        private static int most(int[] counts) {
            int most = 0;
            for (int count : counts) {
                most = Math.max(most, count);
            }
            return most;
        }

        private static double shareAbove(int[] counts, int limit) {
            int above = 0;
            for (int count : counts) {
                above += count > limit ? 1 : 0;
            }
            return above / (double) counts.length;
        }
    }
}
