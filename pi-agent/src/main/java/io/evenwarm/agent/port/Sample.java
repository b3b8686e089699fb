package io.evenwarm.agent.port;

import io.evenwarm.message.Reading;

/** What a driver read, unchecked. Only {@code reading} looks inside. */
public sealed interface Sample {

    /** Monotonic time at which the driver got it. */
    long atNanos();

    /**
     * A number came back.
     *
     * @param value in {@code unit}; may be anything, NaN included
     */
    record Measured(double value, Unit unit, long atNanos) implements Sample {}

    /**
     * No number came back.
     *
     * @param why the kind of failure
     * @param detail what was found where, for a log or a person
     */
    record Failed(Reading.Doubt why, String detail, long atNanos) implements Sample {}

    /** Nothing has been read since the start. */
    record NotYet(long atNanos) implements Sample {}

    /** Units of a measured value. */
    enum Unit {
        CELSIUS,
        PERCENT_RELATIVE_HUMIDITY
    }
}
