package io.evenwarm.agent.rehearsal;

import io.evenwarm.message.Finding;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.Predicate;

/** Makes spans of the findings that follow one another in snapshots. */
final class FindingLog {

    /** Of what is known when it is raised. */
    record Span(
            Finding finding,
            double raisedAtSeconds,
            OptionalDouble clearedAtSeconds,
            boolean isBorneOut) {}

    private final List<Span> open = new ArrayList<>();
    private final List<Span> closed = new ArrayList<>();
    private List<Finding> seen = List.of();

    /**
     * @param isBorneOut asked when a finding is raised: whether the real temperatures bear it out
     */
    void see(List<Finding> findings, double atSeconds, Predicate<Finding> isBorneOut) {
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
                    closed.add(
                            new Span(
                                    was.finding(),
                                    was.raisedAtSeconds(),
                                    OptionalDouble.of(atSeconds),
                                    was.isBorneOut()));
                    return true;
                });
        for (Finding finding : findings) {
            if (open.stream().noneMatch(was -> was.finding().isSameTroubleAs(finding))) {
                open.add(
                        new Span(
                                finding,
                                atSeconds,
                                OptionalDouble.empty(),
                                isBorneOut.test(finding)));
            }
        }
    }

    /** In the order of raising. */
    List<Span> all() {
        List<Span> all = new ArrayList<>(closed);
        all.addAll(open);
        all.sort(Comparator.comparingDouble(Span::raisedAtSeconds));
        return all;
    }
}
