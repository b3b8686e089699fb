package io.evenwarm.monitor.outage;

import io.evenwarm.monitor.history.CabinetKey;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;

/**
 * Tells when the monitor or the network was dark: what that adds to a gap, and which times were
 * read by the agent while no monitor saw them.
 */
public final class UnwatchedFinder {

    private static final long LEAST_MILLIS = 120_000;

    private UnwatchedFinder() {}

    /**
     * A gap, with the monitor or the network where they were dark in it, too. That the agent was
     * silent says nothing of the network where the agent is known not to have run.
     */
    public static Outage told(Outage gap, List<Unwatched> unwatched) {
        Set<Outage.Dark> dark = EnumSet.noneOf(Outage.Dark.class);
        dark.addAll(gap.dark());
        List<String> evidence = new ArrayList<>(gap.evidence());
        for (Unwatched each : unwatched) {
            boolean isAgents = gap.dark().contains(Outage.Dark.AGENT);
            if (each.shared(gap.begin().likely(), gap.end().likely()) < LEAST_MILLIS
                    || (each.what() == Outage.Dark.NETWORK && isAgents)) {
                continue;
            }
            if (dark.add(each.what())) {
                evidence.add(words(each));
            }
        }
        return new Outage(
                gap.key(),
                gap.kind(),
                gap.words(),
                gap.begin(),
                gap.end(),
                dark,
                gap.heat(),
                evidence);
    }

    /** An event of each time that the agent read and no monitor saw, the oldest first. */
    public static List<Outage> of(CabinetKey key, List<Unwatched> unwatched, List<Outage> gaps) {
        List<Outage> events = new ArrayList<>();
        for (Unwatched each : unwatched) {
            long read = each.toMillis() - each.fromMillis();
            for (Outage gap : gaps) {
                read -= each.shared(gap.begin().likely(), gap.end().likely());
            }
            if (read < LEAST_MILLIS) {
                continue;
            }
            events.add(
                    new Outage(
                            key,
                            Outage.Kind.UNSEEN,
                            "not watched",
                            Edge.ofMillis(
                                    each.earliestMillis(), each.fromMillis(), each.fromMillis()),
                            Edge.ofMillis(each.toMillis(), each.toMillis(), each.toMillis()),
                            Set.of(each.what()),
                            Outage.Heat.READ,
                            List.of(
                                    words(each),
                                    "of "
                                            + Duration.ofMillis(read).toMinutes()
                                            + " min of it the agent kept its readings, and sent"
                                            + " them later; what it found then told nobody")));
        }
        return events;
    }

    private static String words(Unwatched of) {
        String time =
                " from "
                        + Instant.ofEpochMilli(of.fromMillis())
                        + " to "
                        + Instant.ofEpochMilli(of.toMillis());
        return of.what() == Outage.Dark.MONITOR
                ? "the monitor did not run" + time
                : "the monitor ran, and heard nothing of the agent" + time;
    }
}
