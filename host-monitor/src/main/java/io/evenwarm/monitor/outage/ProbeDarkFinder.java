package io.evenwarm.monitor.outage;

import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.ProbeSummaries;
import io.evenwarm.monitor.history.Summaries;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;

/**
 * Makes an event of each time of {@value #LEAST_MINUTES} min or more in which the agent asked one
 * probe in vain while another one was read. A probe that nobody asks for any more is no event.
 */
public final class ProbeDarkFinder {

    private static final int LEAST_MINUTES = 10;

    /** A dark probe may answer once in a while. */
    private static final int TOGETHER_STEPS = 3;

    private ProbeDarkFinder() {}

    /**
     * The events, probe by probe.
     *
     * @param probes all of the cabinet, summed up alike
     */
    public static List<Outage> of(CabinetKey key, List<ProbeSummaries> probes) {
        List<Outage> events = new ArrayList<>();
        for (int which = 0; which < probes.size(); which++) {
            ProbeSummaries probe = probes.get(which);
            Set<Long> others = read(probes, which);
            Summaries its = probe.summaries();
            long begin = Long.MIN_VALUE;
            long end = Long.MIN_VALUE;
            for (int i = 0; i < its.size(); i++) {
                if (its.count(i) > 0
                        || its.badCount(i) == 0
                        || !others.contains(its.beginMillis(i))) {
                    continue;
                }
                long at = its.beginMillis(i);
                if (begin == Long.MIN_VALUE || at - end > TOGETHER_STEPS * its.stepMillis()) {
                    add(events, key, probe, begin, end);
                    begin = at;
                }
                end = at + its.stepMillis();
            }
            add(events, key, probe, begin, end);
        }
        return events;
    }

    private static Set<Long> read(List<ProbeSummaries> probes, int without) {
        Set<Long> read = new TreeSet<>();
        for (int which = 0; which < probes.size(); which++) {
            Summaries its = probes.get(which).summaries();
            for (int i = 0; which != without && i < its.size(); i++) {
                if (its.count(i) > 0) {
                    read.add(its.beginMillis(i));
                }
            }
        }
        return read;
    }

    private static void add(
            List<Outage> events, CabinetKey key, ProbeSummaries probe, long begin, long end) {
        long step = probe.summaries().stepMillis();
        if (begin == Long.MIN_VALUE || end - begin < LEAST_MINUTES * 60_000L) {
            return;
        }
        events.add(
                new Outage(
                        key,
                        Outage.Kind.PROBE,
                        probe.probe().value(),
                        Edge.ofMillis(begin - step, begin, begin + step),
                        Edge.ofMillis(end - step, end, end + step),
                        Set.of(Outage.Dark.PROBE),
                        Outage.Heat.READ,
                        List.of(
                                "probe "
                                        + probe.probe()
                                        + ", place "
                                        + probe.place().label()
                                        + ", gave no value while others did")));
    }
}
