package io.evenwarm.monitor.outage;

import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.LogEntry;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;

/** Makes an event of each stretch without readings, from what the log says of it. */
public final class OutageFinder {

    /** What a power cut takes of readings, at the agent's usual {@code commit_seconds}. */
    private static final long LOSS_MILLIS = 10_000;

    /** An agent starts this much before its first reading, or seems to, at the most. */
    private static final long NEAR_MILLIS = 120_000;

    private static final long MILLIS_PER_MINUTE = 60_000;

    private static final String NOT_RUNNING = "agent not running";

    private OutageFinder() {}

    /**
     * The events, in the order of the stretches.
     *
     * @param log entries of the cabinet and of its agent that touch the stretches
     */
    public static List<Outage> of(CabinetKey key, List<Unseen> unseen, List<LogEntry> log) {
        return unseen.stream().map(stretch -> of(key, stretch, log)).toList();
    }

    private static Outage of(CabinetKey key, Unseen stretch, List<LogEntry> log) {
        long from = stretch.lastMillis();
        long to = stretch.firstMillis();
        long alive = from;
        long start = to;
        int dead = 0;
        int starts = 0;
        Set<Outage.Dark> dark = EnumSet.noneOf(Outage.Dark.class);
        List<String> evidence = new ArrayList<>();
        for (LogEntry entry : log) {
            long begin = entry.begin().toEpochMilli();
            long end = entry.end().map(time -> time.toEpochMilli()).orElse(Long.MAX_VALUE);
            boolean isOfAgent = entry.cabinet().isEmpty() && entry.code().isEmpty();
            boolean isNear = begin < to + NEAR_MILLIS && end > from - NEAR_MILLIS;
            if (!isOfAgent || !isNear) {
                continue;
            }
            if (entry.words().startsWith(NOT_RUNNING)) {
                dead++;
                dark.add(Outage.Dark.AGENT);
                if (entry.words().contains("power")) {
                    dark.add(Outage.Dark.MAINS);
                }
                alive = begin > from && begin < to ? Math.max(alive, begin) : alive;
                start = end > from && end < to ? Math.min(start, end) : start;
                evidence.add(entry.words());
            } else if (entry.words().startsWith("agent started") && begin > from) {
                starts++;
                dark.add(Outage.Dark.AGENT);
                start = begin < to ? Math.min(start, begin) : start;
            } else if (entry.words().startsWith(LogEntry.CLOCK_SET)) {
                evidence.add(entry.words());
            } else if (entry.words().startsWith("agent stopped")) {
                evidence.add(entry.words());
            }
        }
        boolean ranUnread = to - start > NEAR_MILLIS;
        Outage.Heat heat =
                dead + starts == 0
                        ? Outage.Heat.NOT_KNOWN
                        : Math.max(dead, starts) > 1 || ranUnread
                                ? Outage.Heat.SOME
                                : Outage.Heat.NONE;
        if (heat == Outage.Heat.NOT_KNOWN) {
            evidence.add(
                    "no entry says that the agent stopped: it may have run on and heated, with its"
                            + " readings lost");
        } else if (ranUnread) {
            evidence.add(
                    "the agent started "
                            + (to - start) / MILLIS_PER_MINUTE
                            + " min before the first reading that there is: it may have heated"
                            + " meanwhile");
        } else if (heat == Outage.Heat.SOME) {
            evidence.add(
                    "the agent started more than once in this time: it may have heated in between");
        }
        long latest = Math.max(from + stretch.intervalMillis() + LOSS_MILLIS, alive);
        return new Outage(
                key,
                Outage.Kind.GAP,
                "no readings",
                Edge.ofMillis(from, alive, Math.min(latest, to))
                        .byClock(stretch.isClockSetBefore()),
                Edge.ofMillis(start, to, to).byClock(stretch.isClockSetAfter()),
                dark,
                heat,
                evidence);
    }
}
