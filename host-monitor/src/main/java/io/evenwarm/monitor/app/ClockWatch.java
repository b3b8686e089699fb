package io.evenwarm.monitor.app;

import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.Liveness;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * Whether this machine's date and time are those of the agents whose clock was set from outside.
 * One that agrees with any of them is believed; where none is there, nothing is known and nothing
 * is said. Used by one thread at a time.
 */
final class ClockWatch {

    /** Clocks that are set from outside differ by less, whatever network set them. */
    private static final Duration APART_MAX = Duration.ofSeconds(60);

    private static final double RATE_MAX = 0.1;

    /** One of the two may just be on its way to be set. */
    private static final Duration HOLDS = Duration.ofMinutes(2);

    private Optional<Long> apartSinceNanos = Optional.empty();

    /** How far apart they are, in words; empty when all is well or nothing is known. */
    Optional<String> look(List<LiveCabinet> cabinets, Instant wall, long nowNanos) {
        Optional<Duration> least =
                cabinets.stream()
                        .filter(cabinet -> cabinet.liveness() == Liveness.LIVE)
                        .filter(cabinet -> cabinet.snapshot().moment().wallTrusted())
                        // A simulated agent's clock may run fast on purpose.
                        .filter(cabinet -> Math.abs(cabinet.clockRate() - 1) < RATE_MAX)
                        .map(
                                cabinet ->
                                        Duration.between(
                                                cabinet.snapshot()
                                                        .moment()
                                                        .wall()
                                                        .plus(cabinet.sinceReceived()),
                                                wall))
                        .min((one, other) -> one.abs().compareTo(other.abs()));
        if (least.isEmpty() || least.get().abs().compareTo(APART_MAX) <= 0) {
            apartSinceNanos = Optional.empty();
            return Optional.empty();
        }
        long since = apartSinceNanos.orElse(nowNanos);
        apartSinceNanos = Optional.of(since);
        return nowNanos - since < HOLDS.toNanos()
                ? Optional.empty()
                : Optional.of(
                        "This machine's clock is "
                                + least.get().abs().toSeconds()
                                + " s "
                                + (least.get().isNegative() ? "behind" : "ahead of")
                                + " those of the agents, which were set from outside.");
    }
}
