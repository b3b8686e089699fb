package io.evenwarm.agent.rehearsal;

import io.evenwarm.message.FindingCode;
import java.util.List;

/** The first days of a catalogue run that takes weeks. */
final class FirstDays {

    private static final double DAY = 86_400;

    private FirstDays() {}

    /** The run until so many days after its fault. */
    static Verdict after(FaultKind kind, long seed, double days) {
        Scenario drawn = Catalogue.scenario(kind, seed);
        double at = drawn.faults().get(0).atSeconds();
        return Rehearsal.run(
                new Scenario(
                        seed, at + days * DAY, drawn.cabinet(), drawn.faults(), drawn.everyday()));
    }

    /** The codes of all that was found, in order. */
    static List<FindingCode> codes(Verdict verdict) {
        return verdict.findings().stream().map(Verdict.FoundFinding::code).toList();
    }
}
