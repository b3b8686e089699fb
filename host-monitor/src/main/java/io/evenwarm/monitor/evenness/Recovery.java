package io.evenwarm.monitor.evenness;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * How long a cabinet took to settle after its door was open for 30 s (DIN 12880, clause 7.6).
 *
 * @param openedAt when it was opened
 * @param settling from the door's closing until every point stays within the limit around its own
 *     mean; empty when one did not come back within the span
 * @param slowest the point that took longest
 * @param deepestKelvin how far the cabinet as a whole fell, 0 or less
 */
public record Recovery(
        Instant openedAt, Optional<Duration> settling, String slowest, double deepestKelvin) {

    /** DIN 12880, clause 7.6. */
    public static final Duration OPEN = Duration.ofSeconds(30);
}
