package io.evenwarm.agent.rehearsal;

import io.evenwarm.message.FindingCode;
import java.util.List;

/** The first days of a run that takes weeks. */
final class FirstDays {

    private static final double DAY = 86_400;

    private FirstDays() {}

    /** The catalogue's run until so many days after its fault. */
    static Verdict after(FaultKind kind, long seed, double days) {
        Scenario drawn = Catalogue.scenario(kind, seed);
        double at = drawn.faults().get(0).atSeconds();
        return Rehearsal.run(of(drawn, at + days * DAY));
    }

    /** The same scenario, ended earlier. */
    static Scenario of(Scenario whole, double seconds) {
        return new Scenario(
                whole.seed(),
                seconds,
                whole.cabinet(),
                whole.faults(),
                whole.everyday(),
                whole.weather(),
                whole.restartsAtSeconds());
    }

    /** The codes of all that was found, in order. */
    static List<FindingCode> codes(Verdict verdict) {
        return verdict.findings().stream().map(Verdict.FoundFinding::code).toList();
    }
}
