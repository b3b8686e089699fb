package io.evenwarm.agent.rehearsal;

import io.evenwarm.message.Finding;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;

/** Makes spans of the findings that follow one another in snapshots. */
final class FindingLog {

    private record Open(Finding finding, double since) {}

    private final List<Open> open = new ArrayList<>();
    private final List<Verdict.FoundFinding> closed = new ArrayList<>();
    private List<Finding> seen = List.of();

    void see(List<Finding> findings, double atSeconds) {
        if (findings.isEmpty() && open.isEmpty()) {
            return;
        }
        if (findings == seen) {
            return;
        }
        seen = findings;
        open.removeIf(
                was -> {
                    if (findings.stream().anyMatch(was.finding()::isSameTroubleAs)) {
                        return false;
                    }
                    closed.add(found(was, OptionalDouble.of(atSeconds)));
                    return true;
                });
        for (Finding finding : findings) {
            if (open.stream().noneMatch(was -> was.finding().isSameTroubleAs(finding))) {
                open.add(new Open(finding, atSeconds));
            }
        }
    }

    List<Verdict.FoundFinding> all() {
        List<Verdict.FoundFinding> all = new ArrayList<>(closed);
        for (Open still : open) {
            all.add(found(still, OptionalDouble.empty()));
        }
        all.sort(Comparator.comparingDouble(Verdict.FoundFinding::raisedAtSeconds));
        return all;
    }

    private static Verdict.FoundFinding found(Open was, OptionalDouble until) {
        Finding finding = was.finding();
        return new Verdict.FoundFinding(
                finding.code(), finding.probe(), was.since(), until, finding.action());
    }
}
