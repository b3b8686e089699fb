package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetObserver;
import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Temperature;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;

/** A guard that is shown readings, a tick a second, and trusts its own trust. */
final class GuardRig {

    static final long SECOND = 1_000_000_000L;
    static final double LOST = Double.NaN;

    final CabinetPlan plan;
    final Guard guard;
    final CabinetObserver observer;
    TickFacts facts = TickFacts.QUIET;
    long now;
    @Nullable GuardVerdict last;

    GuardRig(CabinetPlan plan) {
        this(plan, new Latch.Clear());
    }

    GuardRig(CabinetPlan plan, Latch latch) {
        this.plan = plan;
        this.guard = new Guard(plan, latch);
        this.observer = new CabinetObserver(plan);
    }

    /** What a tick is told beside the readings; nothing else is the matter. */
    static TickFacts facts(
            boolean isHeaterOn,
            boolean isRelayClosed,
            boolean isWork,
            boolean isClockTrusted,
            double clockJumpSeconds) {
        return new TickFacts(
                1,
                isHeaterOn,
                List.of(),
                "",
                "",
                new Signs(
                        isRelayClosed,
                        true,
                        Optional.empty(),
                        OptionalDouble.empty(),
                        isWork,
                        false,
                        isClockTrusted,
                        clockJumpSeconds,
                        false,
                        OptionalDouble.empty()));
    }

    /** One reading for all probes, or one for each. */
    CabinetState state(double... celsius) {
        List<ProbeReading> readings = new ArrayList<>();
        for (int i = 0; i < plan.probes().size(); i++) {
            ProbePlan probe = plan.probes().get(i);
            double value = celsius[celsius.length == 1 ? 0 : i];
            Reading reading =
                    Double.isNaN(value)
                            ? new Reading.Bad(Reading.Doubt.STALE, 0)
                            : new Reading.Good(new Temperature(value), now);
            readings.add(new ProbeReading(probe.name(), probe.place(), reading));
        }
        return observer.observe(List.copyOf(readings), guard.trust());
    }

    GuardVerdict judge(double... celsius) {
        now += SECOND;
        GuardVerdict verdict = guard.judge(state(celsius), facts, now);
        last = verdict;
        return verdict;
    }

    GuardVerdict judgeFor(int seconds, double... celsius) {
        GuardVerdict verdict = judge(celsius);
        for (int i = 1; i < seconds; i++) {
            verdict = judge(celsius);
        }
        return verdict;
    }

    GuardState guardState() {
        GuardVerdict verdict = last;
        if (verdict == null) {
            throw new IllegalStateException("nothing judged yet");
        }
        return verdict.state();
    }

    Optional<Finding> finding(FindingCode code) {
        GuardVerdict verdict = last;
        return verdict == null
                ? Optional.empty()
                : verdict.findings().stream().filter(one -> one.code().equals(code)).findFirst();
    }

    boolean has(FindingCode code) {
        return finding(code).isPresent();
    }
}
