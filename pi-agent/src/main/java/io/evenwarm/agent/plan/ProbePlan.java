package io.evenwarm.agent.plan;

import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;

/**
 * One probe as configured.
 *
 * @param name unique in its cabinet
 * @param place where it sits
 * @param isGuardProbe whether it is the guard's own; its reading then does not steer control
 * @param offsetKelvin added to what it reads, from a check against a reference; −5 to 5 K
 * @param staleAfterSeconds a sample older than this is worth nothing; at least twice what its bus
 *     needs for a round
 * @param sensor what kind of sensor it is, for the checks that depend on it
 */
public record ProbePlan(
        ProbeName name,
        ProbePlace place,
        boolean isGuardProbe,
        double offsetKelvin,
        double staleAfterSeconds,
        Sensor sensor) {

    public ProbePlan {
        if (!(offsetKelvin >= -5 && offsetKelvin <= 5)) {
            throw new IllegalArgumentException("offset must be -5 to 5 K but was " + offsetKelvin);
        }
        if (!(staleAfterSeconds > 0 && staleAfterSeconds <= 600)) {
            throw new IllegalArgumentException(
                    "stale-after must be above 0 and at most 600 s but was " + staleAfterSeconds);
        }
    }

    /** Kinds of sensor, as far as checks differ. */
    public enum Sensor {
        /** A DS18B20: says 85 °C exactly before its first conversion. */
        DS18B20,
        OTHER_THERMOMETER,
        HYGROMETER;

        public boolean isThermometer() {
            return this != HYGROMETER;
        }
    }
}
