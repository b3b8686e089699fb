package io.evenwarm.monitor.alarm;

import io.evenwarm.message.FindingCode;
import java.time.Duration;

/** One thing that the monitor judges of a cabinet by itself. Has no memory. */
interface Judgement {

    /** Too small for any probe: limits that are sums of decimal fractions are met exactly. */
    double ROUNDING = 1e-9;

    FindingCode code();

    /**
     * Whether the condition is there in this snapshot. A limit is passed when it is exceeded, and
     * passed back when the dead band is reached: at 33.0 with a dead band of 0.3, 33.1 is too warm
     * and 32.7 is not any more.
     *
     * @param isRaised whether its alarm is raised: then the dead band counts
     */
    Presence look(Observation seen, CabinetLimits limits, boolean isRaised);

    Duration onDelay(CabinetLimits limits);

    Duration offDelay(CabinetLimits limits);

    /** For a person. */
    AlarmWords words(Observation seen, CabinetLimits limits);

    /** Above a limit, or not yet below it again by the dead band. */
    static Presence above(double value, double limit, double deadBand, boolean isRaised) {
        if (Double.isNaN(value)) {
            return Presence.UNKNOWN;
        }
        return Presence.of(
                isRaised ? value > limit - deadBand + ROUNDING : value > limit + ROUNDING);
    }

    /** Below a limit, or not yet above it again by the dead band. */
    static Presence below(double value, double limit, double deadBand, boolean isRaised) {
        return above(-value, -limit, deadBand, isRaised);
    }
}
