package io.evenwarm.agent.plan;

import java.util.Optional;

/**
 * What guard compares with, beside the limits.
 *
 * @param disagreeKelvin good air probes that differ by more than this for long disagree; above 0
 * @param disagreeSeconds for how long they must; 0 or more
 * @param fallback how to heat while blind; empty: not at all
 */
public record GuardPlan(
        double disagreeKelvin, double disagreeSeconds, Optional<FallbackPlan> fallback) {

    /** Without heat while blind. */
    public GuardPlan(double disagreeKelvin, double disagreeSeconds) {
        this(disagreeKelvin, disagreeSeconds, Optional.empty());
    }

    public static GuardPlan defaults() {
        return new GuardPlan(1.5, 600);
    }

    public GuardPlan {
        if (!(disagreeKelvin > 0 && disagreeKelvin <= 20)) {
            throw new IllegalArgumentException(
                    "disagree must be above 0 and at most 20 K but was " + disagreeKelvin);
        }
        if (!(disagreeSeconds >= 0 && disagreeSeconds <= 86_400)) {
            throw new IllegalArgumentException(
                    "disagree time must be 0 to 86400 s but was " + disagreeSeconds);
        }
    }
}
