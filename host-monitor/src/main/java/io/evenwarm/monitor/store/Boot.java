package io.evenwarm.monitor.store;

import io.evenwarm.message.Moment;
import java.time.Instant;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.concurrent.TimeUnit;

/**
 * One run of an agent, and what is known of its wall time.
 *
 * <p>Until something outside vouches for the agent's wall clock, its times are provisional. The
 * first trusted moment tells how far wall and monotonic time lie apart, which dates the moments
 * before it (the store rewrites them) and any untrusted ones after it.
 *
 * <p>Used under the writer's lock only.
 */
final class Boot {

    /** Far enough for any clock that is wrong, and near enough that sums can't overflow. */
    private static final long MILLIS_MAX = Instant.parse("9999-01-01T00:00:00Z").toEpochMilli();

    private final long id;
    private OptionalLong trustedOffsetMillis;
    private boolean mayHoldProvisionalTimes = true;
    private long lastTimeMillis;
    private Optional<Corrected> corrected = Optional.empty();

    Boot(long id, OptionalLong trustedOffsetMillis, long lastTimeMillis) {
        this.id = id;
        this.trustedOffsetMillis = trustedOffsetMillis;
        this.lastTimeMillis = lastTimeMillis;
    }

    long id() {
        return id;
    }

    OptionalLong trustedOffsetMillis() {
        return trustedOffsetMillis;
    }

    long lastTimeMillis() {
        return lastTimeMillis;
    }

    /** Dates a moment of this boot, and learns from it. */
    Stamp stamp(Moment moment) {
        long wall = bounded(moment.wall());
        long monotonic = TimeUnit.NANOSECONDS.toMillis(moment.monotonicNanos());
        Stamp stamp;
        if (moment.wallTrusted()) {
            trustedOffsetMillis = OptionalLong.of(wall - monotonic);
            stamp = new Stamp(wall, monotonic, false);
        } else if (trustedOffsetMillis.isPresent()) {
            stamp = new Stamp(monotonic + trustedOffsetMillis.getAsLong(), monotonic, false);
        } else {
            stamp = new Stamp(wall, monotonic, true);
        }
        lastTimeMillis = stamp.timeMillis();
        return stamp;
    }

    /** When a moment of this boot was, by what is known now; learns nothing from it. */
    long timeMillis(Moment moment) {
        long wall = bounded(moment.wall());
        return moment.wallTrusted() || trustedOffsetMillis.isEmpty()
                ? wall
                : TimeUnit.NANOSECONDS.toMillis(moment.monotonicNanos())
                        + trustedOffsetMillis.getAsLong();
    }

    /** Whether provisional times may be in the store that can be corrected now. */
    boolean hasCorrectionsToMake() {
        return mayHoldProvisionalTimes && trustedOffsetMillis.isPresent();
    }

    /** A record came whose time the agent itself had corrected. */
    void cameCorrected(Instant recordedWall, long timeMillis) {
        corrected =
                Optional.of(
                        corrected
                                .map(before -> before.upTo(timeMillis))
                                .orElseGet(
                                        () ->
                                                new Corrected(
                                                        timeMillis,
                                                        timeMillis,
                                                        timeMillis - bounded(recordedWall))));
    }

    /** What came corrected since the last call. */
    Optional<Corrected> takeCameCorrected() {
        Optional<Corrected> taken = corrected;
        corrected = Optional.empty();
        return taken;
    }

    void corrected() {
        mayHoldProvisionalTimes = false;
    }

    private static long bounded(Instant wall) {
        long seconds = wall.getEpochSecond();
        if (seconds > MILLIS_MAX / 1000) {
            return MILLIS_MAX;
        }
        return seconds < -MILLIS_MAX / 1000 ? -MILLIS_MAX : wall.toEpochMilli();
    }

    /**
     * When something happened, as far as is known.
     *
     * @param timeMillis wall time since the epoch
     * @param monotonicMillis on the boot's monotonic clock
     * @param isProvisional whether the wall clock could not be trusted and nothing better is known
     */
    record Stamp(long timeMillis, long monotonicMillis, boolean isProvisional) {}

    /**
     * A stretch of records whose times were corrected.
     *
     * @param firstMillis the corrected time of its first one, since the epoch
     * @param lastMillis the corrected time of its last one
     * @param behindMillis by how much the clock was behind at its first one
     */
    record Corrected(long firstMillis, long lastMillis, long behindMillis) {
        Corrected upTo(long millis) {
            return new Corrected(firstMillis, Math.max(lastMillis, millis), behindMillis);
        }
    }
}
