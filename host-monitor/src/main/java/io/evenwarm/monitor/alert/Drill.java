package io.evenwarm.monitor.alert;

import io.evenwarm.monitor.alarm.EventId;
import io.evenwarm.monitor.history.CabinetKey;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * An exercise that somebody asked for and that has not ended.
 *
 * @param asked when, by the wall clock of who asked
 * @param limit after which it ends by itself
 * @param isCancelled whether who asked wants it to end
 * @param taken when the running monitor took it up; empty before
 * @param event of its alarm; empty before that occurred
 */
public record Drill(
        UUID id,
        CabinetKey cabinet,
        Instant asked,
        Duration limit,
        boolean isCancelled,
        Optional<Instant> taken,
        Optional<EventId> event) {}
