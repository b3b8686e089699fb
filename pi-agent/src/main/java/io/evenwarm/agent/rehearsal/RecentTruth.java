package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plant.PlantTruth;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.Limits;

/**
 * How warm and how cold it really was of late, to tell a finding that the temperatures bear out
 * from one that a lying probe made. "Of late" is the last 5 to 10 minutes: probes lag, and findings
 * wait.
 */
final class RecentTruth {

    private static final int SPAN_SECONDS = 300;

    /** Noise, a thermometer's last bit, and what a sum of both may come to. */
    private static final double TOLERANCE_KELVIN = 0.15;

    private double warmest = Double.NEGATIVE_INFINITY;
    private double coldest = Double.POSITIVE_INFINITY;
    private double warmestBefore = Double.NEGATIVE_INFINITY;
    private double coldestBefore = Double.POSITIVE_INFINITY;
    private int seconds;

    void see(PlantTruth truth) {
        if (++seconds > SPAN_SECONDS) {
            seconds = 1;
            warmestBefore = warmest;
            coldestBefore = coldest;
            warmest = Double.NEGATIVE_INFINITY;
            coldest = Double.POSITIVE_INFINITY;
        }
        warmest = Math.max(warmest, Math.max(truth.warmestAirCelsius(), truth.warmestTubCelsius()));
        coldest = Math.min(coldest, truth.coldestAirCelsius());
    }

    /** Whether it really was that warm or cold; false for a finding that is about neither. */
    boolean bearsOut(FindingCode code, Limits limits) {
        if (code.equals(FindingCode.CUT_OFF_TRIPPED)) {
            return wasAbove(limits.cutOff().celsius());
        }
        if (code.equals(FindingCode.TOO_WARM)) {
            return wasAbove(limits.tooWarm().celsius());
        }
        return code.equals(FindingCode.TOO_COLD)
                && Math.min(coldest, coldestBefore) < limits.tooCold().celsius() + TOLERANCE_KELVIN;
    }

    private boolean wasAbove(double celsius) {
        return Math.max(warmest, warmestBefore) > celsius - TOLERANCE_KELVIN;
    }
}
