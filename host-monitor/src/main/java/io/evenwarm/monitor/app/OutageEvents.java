package io.evenwarm.monitor.app;

import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmState;
import io.evenwarm.monitor.alarm.AlarmTimes;
import io.evenwarm.monitor.alert.LoggedChange;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.LogEntry;
import io.evenwarm.monitor.history.MonitorRun;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.ProbeSummaries;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.outage.FailureFinder;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.outage.OutageFinder;
import io.evenwarm.monitor.outage.ProbeDarkFinder;
import io.evenwarm.monitor.outage.Unseen;
import io.evenwarm.monitor.outage.Unwatched;
import io.evenwarm.monitor.outage.UnwatchedFinder;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoreOutside;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;

/** Every gap and failure of a cabinet as an event, found in the store. */
record OutageEvents(StoreOutside store) {

    private static final long LEAST_GAP_MILLIS = 120_000;
    private static final int INTERVALS = 3;
    private static final int LOG_ENTRIES_MAX = 10_000;

    /** An agent is silent for this long at the most before the monitor says so. */
    private static final Duration SILENT_UNSAID = Duration.ofMinutes(2);

    /** It usually was for this long. */
    private static final Duration SILENT_BEFORE = AlarmTimes.DEFAULT.silence();

    /** And was heard again for this long before the alarm counts as over. */
    private static final Duration HEARD_BEFORE = AlarmTimes.DEFAULT.foundOffDelay();

    /** Those that touch all of a cabinet's history, the oldest first. */
    List<Outage> ofAll(CabinetKey key) throws StoreException {
        Optional<TimeSpan> extent = store.history().extent(key);
        return extent.isEmpty()
                ? List.of()
                : of(key, new TimeSpan(extent.get().from(), extent.get().to().plusMillis(1)));
    }

    /** Those that touch a span, the oldest first. */
    List<Outage> of(CabinetKey key, TimeSpan span) throws StoreException {
        HistoryQueries history = store.history();
        List<ProbeSummaries> probes = history.summaries(key, span, Tier.MINUTE);
        List<LogEntry> log = history.log(Optional.of(key), span, LOG_ENTRIES_MAX);
        List<Unwatched> unwatched = new ArrayList<>(notRunning(store.runs(), span));
        unwatched.addAll(silences(key, span, List.copyOf(unwatched)));
        List<Outage> gaps =
                OutageFinder.of(key, unseen(history, key, probes), log).stream()
                        .map(gap -> UnwatchedFinder.told(gap, unwatched))
                        .toList();
        Instant newest = history.extent(key).map(TimeSpan::to).orElse(span.to());
        List<Outage> events = new ArrayList<>(gaps);
        events.addAll(FailureFinder.of(key, log, gaps, newest));
        events.addAll(ProbeDarkFinder.of(key, probes));
        events.addAll(UnwatchedFinder.of(key, unwatched, gaps));
        events.sort(Comparator.comparing(event -> event.begin().likely()));
        return events;
    }

    /** Between two runs; before the first one nothing is known of any. */
    private static List<Unwatched> notRunning(List<MonitorRun> runs, TimeSpan span) {
        List<Unwatched> between = new ArrayList<>();
        for (int i = 0; i + 1 < runs.size(); i++) {
            Instant last = runs.get(i).last();
            Instant next = runs.get(i + 1).started();
            if (next.isAfter(last) && next.isAfter(span.from()) && last.isBefore(span.to())) {
                between.add(Unwatched.of(Outage.Dark.MONITOR, last, last, next));
            }
        }
        return between;
    }

    /** When the monitor ran and heard nothing of the agent, by its own alarm. */
    private List<Unwatched> silences(CabinetKey key, TimeSpan span, List<Unwatched> notRunning)
            throws StoreException {
        List<Unwatched> silences = new ArrayList<>();
        Optional<Instant> since = Optional.empty();
        for (LoggedChange change : store.changesAbout(key, span)) {
            if (!change.code().equals(AlarmCodes.AGENT_SILENT.value())) {
                continue;
            }
            if (isOver(change.to())) {
                Instant heard = change.at().minus(HEARD_BEFORE);
                since.ifPresent(begin -> silences.addAll(silent(begin, heard, notRunning)));
                since = Optional.empty();
            } else if (since.isEmpty()) {
                since = Optional.of(change.at().minus(SILENT_BEFORE));
            }
        }
        return silences;
    }

    /**
     * A silence's time without those in which no monitor ran, over which its alarm stands: of these
     * nobody knows whether the agent was silent.
     *
     * @param notRunning the oldest first
     */
    static List<Unwatched> silent(Instant begin, Instant end, List<Unwatched> notRunning) {
        List<Unwatched> parts = new ArrayList<>();
        Instant earliest = begin.plus(SILENT_BEFORE).minus(SILENT_UNSAID);
        Instant from = begin;
        for (Unwatched off : notRunning) {
            Instant stopped = Instant.ofEpochMilli(off.fromMillis());
            Instant started = Instant.ofEpochMilli(off.toMillis());
            if (started.isAfter(earliest) && stopped.isBefore(end)) {
                if (stopped.isAfter(from)) {
                    parts.add(Unwatched.of(Outage.Dark.NETWORK, earliest, from, stopped));
                }
                earliest = started;
                from = started.isAfter(from) ? started : from;
            }
        }
        if (from.isBefore(end)) {
            parts.add(Unwatched.of(Outage.Dark.NETWORK, earliest, from, end));
        }
        return parts;
    }

    private static boolean isOver(String state) {
        return state.equals(AlarmState.NORMAL.words())
                || state.equals(AlarmState.RETURNED_UNACKNOWLEDGED.words());
    }

    private List<Unseen> unseen(HistoryQueries history, CabinetKey key, List<ProbeSummaries> probes)
            throws StoreException {
        TreeSet<Long> read = new TreeSet<>();
        for (ProbeSummaries probe : probes) {
            if (probe.place().kind() != ProbePlace.Kind.AMBIENT) {
                for (int i = 0; i < probe.summaries().size(); i++) {
                    if (probe.summaries().count(i) > 0) {
                        read.add(probe.summaries().beginMillis(i));
                    }
                }
            }
        }
        long[] minutes = read.stream().mapToLong(Long::longValue).toArray();
        // Two minutes without a reading leave at least one of the clock's minutes out.
        long least = Math.max(LEAST_GAP_MILLIS, INTERVALS * slowly(minutes));
        List<Unseen> found = new ArrayList<>();
        for (int i = 0; i + 1 < minutes.length; i++) {
            if (minutes[i + 1] - minutes[i] >= least) {
                long[] before = times(history, key, minutes[i]);
                long[] after = times(history, key, minutes[i + 1]);
                if (before.length > 0
                        && after.length > 0
                        && after[0] - before[before.length - 1] >= least) {
                    long last = before[before.length - 1];
                    found.add(
                            new Unseen(
                                    last,
                                    after[0],
                                    usual(before),
                                    store.isClockSet(key, Instant.ofEpochMilli(last)),
                                    store.isClockSet(key, Instant.ofEpochMilli(after[0]))));
                }
            }
        }
        return found;
    }

    /** The least step between the minutes with readings, where they are read less often; else 0. */
    private static long slowly(long[] minutes) {
        long least = Long.MAX_VALUE;
        for (int i = 0; i + 1 < minutes.length; i++) {
            least = Math.min(least, minutes[i + 1] - minutes[i]);
        }
        return least == Long.MAX_VALUE || least <= Tier.MINUTE.stepMillis() ? 0 : least;
    }

    /** The usual step between times; a minute where there are too few to tell. */
    private static long usual(long[] times) {
        long[] steps = new long[Math.max(0, times.length - 1)];
        for (int i = 0; i < steps.length; i++) {
            steps[i] = times[i + 1] - times[i];
        }
        Arrays.sort(steps);
        return steps.length == 0 ? Tier.MINUTE.stepMillis() : steps[steps.length / 2];
    }

    /** When anything in the cabinet was read in a minute. */
    private static long[] times(HistoryQueries history, CabinetKey key, long minuteMillis) {
        Instant begin = Instant.ofEpochMilli(minuteMillis);
        TreeSet<Long> times = new TreeSet<>();
        for (ProbeCurve probe :
                history.everyReading(key, new TimeSpan(begin, begin.plusSeconds(60))).probes()) {
            for (int i = 0; i < probe.curve().size(); i++) {
                if (probe.place().kind() != ProbePlace.Kind.AMBIENT
                        && Double.isFinite(probe.curve().value(i))) {
                    times.add(probe.curve().epochMillis(i));
                }
            }
        }
        return times.stream().mapToLong(Long::longValue).toArray();
    }
}
