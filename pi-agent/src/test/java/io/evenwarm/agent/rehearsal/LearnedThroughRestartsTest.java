package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plant.PlantFault;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbeName;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** An agent that is restarted again and again goes on from what it had learned. */
final class LearnedThroughRestartsTest {

    private static final double HOUR = 3600;
    private static final double DAY = 24 * HOUR;

    /** Sound for two days, then a fault, and from then on a restart each so many hours. */
    private static Verdict run(long seed, PlantFault fault, double days, double hours) {
        double duration = (2 + days) * DAY;
        List<Double> restarts = new ArrayList<>();
        for (double at = 2 * DAY + hours * HOUR; at < duration; at += hours * HOUR) {
            restarts.add(at);
        }
        return Rehearsal.run(
                new Scenario(
                        seed,
                        duration,
                        Catalogue.cabinet(seed),
                        List.of(new Scenario.TimedFault(2 * DAY, OptionalDouble.empty(), fault)),
                        Catalogue.openings(seed, duration),
                        Weather.STEADY,
                        restarts));
    }

    @Test
    void aHeaterThatGotWeakIsFoundThoughNoStretchIsLongEnoughToLearnItAnew() {
        Verdict verdict = run(5001, new PlantFault.HeaterWeak(0.6), 5, 13);
        OptionalDouble found = verdict.firstRaised(FindingCode.HEATER_WEAK);
        assertTrue(found.isPresent(), () -> verdict.findings().toString());
        assertEquals(0, verdict.falseFindings(), () -> verdict.findings().toString());
    }

    @Test
    void aSlowDriftIsNotLearnedAwayByRestarts() {
        Verdict verdict = run(6001, new PlantFault.ProbeDrift(new ProbeName("middle"), 0.03), 2, 5);
        OptionalDouble found = verdict.firstRaised(FindingCode.PROBE_DRIFTING);
        assertTrue(found.isPresent(), () -> verdict.findings().toString());
        // For half an hour after each start it is believed, and may make the air seem too warm.
        assertEquals(
                Set.of(FindingCode.PROBE_DRIFTING),
                verdict.findings().stream()
                        .map(Verdict.FoundFinding::code)
                        .filter(code -> !code.equals(FindingCode.TOO_WARM))
                        .collect(Collectors.toSet()),
                () -> verdict.findings().toString());
    }

    @Test
    void aHeaterThatWasFoundWeakIsToldAgainAfterARestartWithoutLearningAnew() {
        Verdict verdict = run(5001, new PlantFault.HeaterWeak(0.6), 6, 5 * 24);
        double restartedAt = 7 * DAY;
        double toldAgain =
                verdict.findings().stream()
                        .filter(found -> found.code().equals(FindingCode.HEATER_WEAK))
                        .mapToDouble(Verdict.FoundFinding::raisedAtSeconds)
                        .filter(at -> at > restartedAt)
                        .min()
                        .orElse(Double.POSITIVE_INFINITY);
        assertTrue(toldAgain < restartedAt + HOUR, toldAgain - restartedAt + " s");
    }
}
