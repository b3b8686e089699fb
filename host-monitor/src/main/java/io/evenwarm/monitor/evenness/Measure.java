package io.evenwarm.monitor.evenness;

/** What a survey is of. */
public enum Measure {
    /** In °C, differences in K. */
    TEMPERATURE,
    /** In %RH. */
    HUMIDITY
}
