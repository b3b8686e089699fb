package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.health.CabinetHealth;
import io.evenwarm.agent.guard.health.LearnedRows;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.port.Learned;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;

/**
 * Whether what was learned before a start was learned of this cabinet: with another probe, or one
 * that hangs elsewhere, it says nothing.
 */
final class LearnedBefore {

    private final String about;
    private final Optional<SortedMap<String, List<Double>>> rows;
    private final Optional<String> refusal;

    LearnedBefore(CabinetPlan plan, Optional<Learned> kept) {
        about = about(plan);
        refusal = kept.flatMap(learned -> refusal(plan, learned));
        rows = refusal.isPresent() ? Optional.empty() : kept.map(Learned::rows);
    }

    /** The probes in their order, and what each of them is, in one line. */
    private static String about(CabinetPlan plan) {
        StringBuilder text = new StringBuilder();
        for (ProbePlan probe : plan.probes()) {
            text.append(text.isEmpty() ? "" : ", ")
                    .append(probe.name())
                    .append(" at ")
                    .append(probe.place().kind())
                    .append(' ')
                    .append(probe.place().label())
                    .append(probe.isGuardProbe() ? " for guard" : "")
                    .append(" by ")
                    .append(probe.sensor())
                    .append(' ')
                    .append(probe.offsetKelvin());
        }
        return text.append(plan.hasFanTachometer() ? ", fan with tachometer" : "").toString();
    }

    private Optional<String> refusal(CabinetPlan plan, Learned kept) {
        if (!kept.about().equals(about)) {
            return Optional.of(
                    "it was learned of a cabinet with ["
                            + kept.about()
                            + "], and this one has ["
                            + about
                            + "]");
        }
        try {
            // Whether the rows fit shows only in taking them, and half taken they are worth
            // nothing.
            LearnedRows reading = LearnedRows.reading(kept.rows());
            new CabinetHealth(plan).learned(reading);
            new FanTurns().learned(reading.of(Watches.FAN_ROWS));
            return Optional.empty();
        } catch (IllegalArgumentException e) {
            return Optional.of(String.valueOf(e.getMessage()));
        }
    }

    String about() {
        return about;
    }

    Optional<SortedMap<String, List<Double>>> rows() {
        return rows;
    }

    Optional<String> refusal() {
        return refusal;
    }
}
