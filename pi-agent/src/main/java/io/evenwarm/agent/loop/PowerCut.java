package io.evenwarm.agent.loop;

import io.evenwarm.message.Moment;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.OptionalDouble;

/** That the machine was off before this start, and for how long once a trusted clock tells. */
final class PowerCut {

    private static final double LONGEST_SECONDS = 10 * 365.25 * 86_400;

    private boolean hasBeen;
    private Optional<Instant> lastAlive = Optional.empty();
    private OptionalDouble offSeconds = OptionalDouble.empty();
    private long startedAtNanos;
    private boolean hasStarted;

    /**
     * @param lastAlive when the agent last knew the time before it; empty when it did not
     */
    void note(Optional<Instant> lastAlive) {
        this.hasBeen = true;
        this.lastAlive = lastAlive;
    }

    void see(Moment now) {
        if (!hasStarted) {
            hasStarted = true;
            startedAtNanos = now.monotonicNanos();
        }
        if (!hasBeen || offSeconds.isPresent() || !now.wallTrusted() || lastAlive.isEmpty()) {
            return;
        }
        double sinceAlive = Duration.between(lastAlive.get(), now.wall()).toSeconds();
        double off = sinceAlive - (now.monotonicNanos() - startedAtNanos) / 1e9;
        if (off >= 0 && off < LONGEST_SECONDS) {
            offSeconds = OptionalDouble.of(off);
        } else {
            lastAlive = Optional.empty();
        }
    }

    boolean hasBeen() {
        return hasBeen;
    }

    OptionalDouble offSeconds() {
        return offSeconds;
    }
}
