package io.evenwarm.agent.rehearsal;

import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbeName;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What a rehearsal came to. Seconds count from the scenario's start.
 *
 * @param seed the run's seed
 * @param peakEggCelsius warmest tub of the run
 * @param lowestEggCelsius coldest tub of the run; from cold that is the start
 * @param peakAirCelsius warmest layer of air of the run
 * @param secondsAboveCeiling for how long a tub was above the ceiling
 * @param findings all that the guard found, in the order of raising
 * @param relayOperations how often the heater relay was switched on
 * @param traceSha256 SHA-256 of the levels of all lines, a byte a second, in lower-case hex
 */
public record Verdict(
        long seed,
        double peakEggCelsius,
        double lowestEggCelsius,
        double peakAirCelsius,
        long secondsAboveCeiling,
        List<FoundFinding> findings,
        long relayOperations,
        String traceSha256) {

    public Verdict {
        findings = List.copyOf(findings);
    }

    /** Whether the answer is no. */
    public boolean haveEggsPassedTheCeiling() {
        return secondsAboveCeiling > 0;
    }

    /**
     * One finding of the guard, from its raising to its clearing.
     *
     * @param probe the probe that it is about, where it is about one
     * @param raisedAtSeconds when it was first in a snapshot
     * @param clearedAtSeconds when it was first in none; empty when it held to the end
     * @param action what the agent did by itself
     */
    public record FoundFinding(
            FindingCode code,
            Optional<ProbeName> probe,
            double raisedAtSeconds,
            OptionalDouble clearedAtSeconds,
            String action) {}
}
