package io.evenwarm.agent.loop;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.port.Probe;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.agent.reading.SampleCheck;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import java.util.List;

/** Takes each probe's newest sample and has it checked. Control thread only. */
final class ProbeIntake {

    private static final System.Logger LOG = System.getLogger(ProbeIntake.class.getName());

    private final CabinetPlan plan;
    private final Probe[] probes;
    private final SampleCheck[] checks;
    private final LossLog[] losses;
    private final ProbeReading[] latest;
    private List<ProbeReading> readings;

    ProbeIntake(CabinetPlan plan, List<Probe> probes) {
        if (probes.size() != plan.probes().size()) {
            throw new IllegalArgumentException(
                    "cabinet "
                            + plan.name()
                            + " has "
                            + plan.probes().size()
                            + " probes in its plan but "
                            + probes.size()
                            + " were given");
        }
        this.plan = plan;
        this.probes = probes.toArray(Probe[]::new);
        checks = new SampleCheck[this.probes.length];
        losses = new LossLog[this.probes.length];
        latest = new ProbeReading[this.probes.length];
        for (int i = 0; i < checks.length; i++) {
            ProbePlan probe = plan.probes().get(i);
            checks[i] = new SampleCheck(probe);
            losses[i] = new LossLog();
            latest[i] =
                    new ProbeReading(
                            probe.name(),
                            probe.place(),
                            new Reading.Bad(Reading.Doubt.NOT_YET_READ, 0));
        }
        readings = List.of(latest);
    }

    /** The readings as last read. */
    List<ProbeReading> readings() {
        return readings;
    }

    /** The readings now, in the plan's order; the same list as long as none changed. */
    List<ProbeReading> read(long nowNanos) {
        boolean isChanged = false;
        for (int i = 0; i < probes.length; i++) {
            Reading reading = checks[i].check(newest(i, nowNanos), nowNanos);
            ProbeReading before = latest[i];
            if (reading != before.reading()) {
                logWhenWorse(i, before.reading(), reading, nowNanos);
                latest[i] = new ProbeReading(before.probe(), before.place(), reading);
                isChanged = true;
            }
        }
        if (isChanged) {
            readings = List.of(latest);
        }
        return readings;
    }

    private Sample newest(int probe, long nowNanos) {
        try {
            return probes[probe].newest();
        } catch (RuntimeException e) {
            return new Sample.Failed(Reading.Doubt.DRIVER, String.valueOf(e), nowNanos);
        }
    }

    /** One line when a value is lost, with what the driver found where; not one a tick. */
    private void logWhenWorse(int probe, Reading before, Reading after, long nowNanos) {
        if (after instanceof Reading.Bad bad && isNews(before, bad.doubt())) {
            losses[probe]
                    .lost(bad.doubt(), nowNanos)
                    .ifPresent(more -> log(probe, bad.doubt(), more));
        }
    }

    private void log(int probe, Reading.Doubt doubt, String more) {
        LOG.log(
                System.Logger.Level.WARNING,
                "cabinet {0}, probe {1}: {2}{3}{4}",
                plan.name(),
                latest[probe].probe(),
                doubt.words(),
                doubt == Reading.Doubt.STALE ? "" : " (" + checks[probe].rejection() + ")",
                more);
    }

    /** A probe that is still to make its first conversion is none. */
    private static boolean isNews(Reading before, Reading.Doubt doubt) {
        if (!(before instanceof Reading.Bad known)) {
            return true;
        }
        return known.doubt() != doubt
                && doubt != Reading.Doubt.NOT_YET_READ
                && !(known.doubt() == Reading.Doubt.NOT_YET_READ
                        && doubt == Reading.Doubt.POWER_ON_VALUE);
    }
}
