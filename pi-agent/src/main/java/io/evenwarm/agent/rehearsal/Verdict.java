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
 * @param firstAboveCeilingAtSeconds when first; empty: never
 * @param findings all that the guard found, in the order of raising
 * @param firstRightFindingAfterFaultSeconds one a fault, in the scenario's order: how long after
 *     its beginning the first finding was raised that names it; empty when none was
 * @param dutyBeforeFault share of the half hour before the first fault in which the heater was on;
 *     empty without a fault, or when one came in the first half hour
 * @param response how the set point was held
 * @param relayOperations how often the heater relay was switched on
 * @param relayOperationsSinceFault the same from the first fault on; 0 without one
 * @param traceSha256 SHA-256 of the levels of all lines, a byte a second, in lower-case hex
 */
public record Verdict(
        long seed,
        double peakEggCelsius,
        double lowestEggCelsius,
        double peakAirCelsius,
        long secondsAboveCeiling,
        OptionalDouble firstAboveCeilingAtSeconds,
        List<FoundFinding> findings,
        List<OptionalDouble> firstRightFindingAfterFaultSeconds,
        OptionalDouble dutyBeforeFault,
        ControlResponse response,
        long relayOperations,
        long relayOperationsSinceFault,
        String traceSha256) {

    public Verdict {
        findings = List.copyOf(findings);
        firstRightFindingAfterFaultSeconds = List.copyOf(firstRightFindingAfterFaultSeconds);
    }

    /** Whether the answer is no. */
    public boolean haveEggsPassedTheCeiling() {
        return secondsAboveCeiling > 0;
    }

    /** Findings that nothing explains. */
    public int falseFindings() {
        return (int)
                findings.stream().filter(found -> found.bearing() == Bearing.UNEXPLAINED).count();
    }

    /** When a finding of this code was first raised. */
    public OptionalDouble firstRaised(FindingCode code) {
        return findings.stream()
                .filter(found -> found.code().equals(code))
                .mapToDouble(FoundFinding::raisedAtSeconds)
                .findFirst();
    }

    /** What a finding has to do with what happened. */
    public enum Bearing {
        /** It names a fault: the right code, and the right probe where the fault has one. */
        RIGHT,
        /** It follows from a fault, or after one the real temperatures bear it out. */
        EXPLAINED,
        /** A false finding. One that was there before the fault is, whatever comes later. */
        UNEXPLAINED
    }

    /**
     * One finding of the guard, from its raising to its clearing.
     *
     * @param probe the probe that it is about, where it is about one
     * @param raisedAtSeconds when it was first in a snapshot
     * @param clearedAtSeconds when it was first in none; empty when it held to the end
     * @param action what the agent did by itself
     * @param evidence what it was raised on
     * @param bearing what it has to do with what happened
     * @param isBorneOut for a finding about temperatures: whether it really was that warm or cold
     */
    public record FoundFinding(
            FindingCode code,
            Optional<ProbeName> probe,
            double raisedAtSeconds,
            OptionalDouble clearedAtSeconds,
            String action,
            String evidence,
            Bearing bearing,
            boolean isBorneOut) {

        /** A latched cut-off although nothing was as hot as that. */
        public boolean isFalseTrip() {
            return code.equals(FindingCode.CUT_OFF_TRIPPED) && !isBorneOut;
        }

        /** For example {@code probe-lost(top)}. */
        public String shortWords() {
            return code.value() + probe.map(name -> "(" + name + ")").orElse("");
        }
    }
}
