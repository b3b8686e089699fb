package io.evenwarm.agent.rehearsal;

import io.evenwarm.message.Finding;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;

/** Holds what the guard found against what happened. */
final class Judge {

    private final Scenario scenario;

    Judge(Scenario scenario) {
        this.scenario = scenario;
    }

    List<Verdict.FoundFinding> findings(List<FindingLog.Span> spans) {
        List<Verdict.FoundFinding> found = new ArrayList<>();
        for (FindingLog.Span span : spans) {
            Finding finding = span.finding();
            found.add(
                    new Verdict.FoundFinding(
                            finding.code(),
                            finding.probe(),
                            span.raisedAtSeconds(),
                            span.clearedAtSeconds(),
                            finding.action(),
                            finding.evidence(),
                            bearing(span),
                            span.isBorneOut()));
        }
        return found;
    }

    /** One a fault. */
    List<OptionalDouble> firstRight(List<FindingLog.Span> spans) {
        List<OptionalDouble> first = new ArrayList<>();
        for (Scenario.TimedFault fault : scenario.faults()) {
            first.add(
                    spans.stream()
                            .filter(span -> isRight(fault, span))
                            .mapToDouble(span -> span.raisedAtSeconds() - fault.atSeconds())
                            .findFirst());
        }
        return first;
    }

    /**
     * In sound life nothing is to be found but a door that is open for too long, and a room that is
     * itself too warm: a short look inside makes the air cold, and calls nobody. After a fault what
     * the temperatures bear out is true.
     */
    private Verdict.Bearing bearing(FindingLog.Span span) {
        boolean isExplained = DueFindings.isRoomToBlame(scenario, span);
        for (Scenario.TimedFault fault : scenario.faults()) {
            if (isRight(fault, span)) {
                return Verdict.Bearing.RIGHT;
            }
            isExplained |=
                    fault.atSeconds() <= span.raisedAtSeconds()
                            && (span.isBorneOut()
                                    || DueFindings.follows(fault, span.finding().code()));
        }
        for (Everyday happening : scenario.everyday()) {
            isExplained |= DueFindings.isDue(happening, span);
        }
        return isExplained ? Verdict.Bearing.EXPLAINED : Verdict.Bearing.UNEXPLAINED;
    }

    private static boolean isRight(Scenario.TimedFault fault, FindingLog.Span span) {
        return span.raisedAtSeconds() >= fault.atSeconds()
                && DueFindings.isRight(fault, span.finding().code(), span.finding().probe());
    }
}
