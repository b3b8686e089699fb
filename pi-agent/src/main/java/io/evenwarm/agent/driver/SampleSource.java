package io.evenwarm.agent.driver;

import io.evenwarm.agent.port.Sample;

/** Reads one sensor. May take as long as its bus takes, or hang with it. */
@FunctionalInterface
public interface SampleSource {

    /**
     * Reads the sensor once. Called by its bus's reader only; throws nothing for a sensor that is
     * missing or broken, but says so in the sample.
     *
     * @param startedAtNanos monotonic time now; the sample carries it, so that a slow read makes a
     *     sample look older, never younger
     */
    Sample read(long startedAtNanos);
}
