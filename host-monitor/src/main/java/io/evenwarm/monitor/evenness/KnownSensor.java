package io.evenwarm.monitor.evenness;

import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.history.CabinetKey;
import java.time.Instant;

/**
 * What an agent said that a probe is.
 *
 * @param at since when, as far as the monitor knows
 * @param sensor as the agent calls it; empty: it does not know any more
 */
public record KnownSensor(CabinetKey key, ProbeName probe, Instant at, String sensor) {}
