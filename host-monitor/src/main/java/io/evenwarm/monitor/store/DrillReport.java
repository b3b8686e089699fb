package io.evenwarm.monitor.store;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * How far a drill has come. All times are by the running monitor's wall clock, but the first.
 *
 * @param asked by the clock of who asked
 * @param taken when the monitor took it up
 * @param raised when its alarm occurred
 * @param acknowledged by whom, and when; empty when nobody has
 * @param ended when it was over
 * @param outcome how it ended, in words; empty before
 * @param hands what became of its notice, one each person and channel, in the order of telling
 */
public record DrillReport(
        Instant asked,
        Optional<Instant> taken,
        Optional<Instant> raised,
        Optional<Acknowledged> acknowledged,
        Optional<Instant> ended,
        String outcome,
        List<Hand> hands) {

    public DrillReport {
        hands = List.copyOf(hands);
    }

    /** Somebody answered. */
    public record Acknowledged(String who, Instant at) {}

    /**
     * One notice on its way to one person by one channel.
     *
     * @param queued when it was written and queued
     * @param state where it stands, by the store's word
     * @param tries that failed, as far as they were kept
     * @param ended when it was handed over, or given up
     * @param words of the last try
     */
    public record Hand(
            String person,
            String channel,
            Instant queued,
            String state,
            int tries,
            Optional<Instant> ended,
            String words) {}
}
