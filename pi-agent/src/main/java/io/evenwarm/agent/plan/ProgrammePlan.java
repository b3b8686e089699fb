package io.evenwarm.agent.plan;

import java.util.List;

/**
 * How the set point goes by itself, as an offset to the base: the configured or commanded set
 * point.
 *
 * @param steps by the time of day or since the agent's start, in rising order
 * @param clock what their times count from
 * @param upKelvinPerHour the set point rises no faster; above 0 to 60 K/h
 * @param downKelvinPerHour nor falls faster; above 0 to 60 K/h
 */
public record ProgrammePlan(
        List<Step> steps, Clock clock, double upKelvinPerHour, double downKelvinPerHour) {

    /** What a programme's times count from. */
    public enum Clock {
        /** Midnight, local time; only while the wall clock is trusted. */
        TIME_OF_DAY,
        /** The agent's start. The last step holds on. */
        SINCE_START
    }

    /**
     * One step.
     *
     * @param atSeconds when, of the clock; 0 or more, for a time of day below 86,400
     * @param offsetKelvin what is added to the base from then on; −10 to 10 K
     */
    public record Step(double atSeconds, double offsetKelvin) {
        public Step {
            if (!(atSeconds >= 0 && atSeconds <= 400 * 86_400.0)
                    || !(offsetKelvin >= -10 && offsetKelvin <= 10)) {
                throw new IllegalArgumentException(
                        "no step goes to " + offsetKelvin + " K at " + atSeconds + " s");
            }
        }
    }

    public ProgrammePlan {
        steps = List.copyOf(steps);
        if (steps.isEmpty()) {
            throw new IllegalArgumentException("a programme must have a step");
        }
        for (int i = 0; i < steps.size(); i++) {
            if (i > 0 && !(steps.get(i).atSeconds() > steps.get(i - 1).atSeconds())) {
                throw new IllegalArgumentException("a programme's steps must rise in time");
            }
            if (clock == Clock.TIME_OF_DAY && steps.get(i).atSeconds() >= 86_400) {
                throw new IllegalArgumentException("a day has 24 hours");
            }
        }
        if (!(upKelvinPerHour > 0 && upKelvinPerHour <= 60)
                || !(downKelvinPerHour > 0 && downKelvinPerHour <= 60)) {
            throw new IllegalArgumentException(
                    "rates must be above 0 and at most 60 K/h but were "
                            + upKelvinPerHour
                            + " and "
                            + downKelvinPerHour);
        }
    }
}
