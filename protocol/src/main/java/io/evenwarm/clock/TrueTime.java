package io.evenwarm.clock;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * The wall clock of one run of the agent, and who vouches for it: the system's time service, or
 * else a monitor that told the time. The machine's own clock is never set from here.
 *
 * <p>Once trusted it stays so: what vouched may go away, the clock runs on. A system clock that is
 * set later takes the place of a told time. Any thread may use it.
 */
public final class TrueTime implements WallClock {

    /** A told time is believed when it was on its way for no longer: half of it is the error. */
    public static final Duration ROUND_TRIP_MAX = Duration.ofSeconds(4);

    /** So little too early is two clocks that differ, and is raised to the earliest allowed. */
    public static final Duration RAISED_MAX = Duration.ofSeconds(60);

    /** A told clock that drifted is led to the new time by so much a second, never back. */
    private static final long SLEW_NANOS_PER_NANO_DIVISOR = 100;

    private final MonotonicClock monotonic;
    private final WallClock system;
    private final long startedAtNanos;
    private volatile boolean isSystemTrusted;
    private volatile Optional<Told> told = Optional.empty();

    private record Told(String by, Instant wall, long atNanos, long slewNanos) {
        Instant at(long nowNanos) {
            long elapsed = nowNanos - atNanos;
            long most = Math.max(0, elapsed) / SLEW_NANOS_PER_NANO_DIVISOR;
            return wall.plusNanos(elapsed + Math.max(-most, Math.min(most, slewNanos)));
        }
    }

    /** What became of a told time. */
    public enum Outcome {
        /** Not needed: the system's clock is trusted, or another monitor has told the time. */
        NOT_NEEDED,
        /** Taken over. */
        TAKEN,
        /** Too long on its way to be believed. */
        TOO_SLOW,
        /** Earlier than what is journalled already, or far from what was told before. */
        REFUSED
    }

    /**
     * Begins a run.
     *
     * @param system the machine's wall clock, and whether it was set from outside
     */
    public TrueTime(MonotonicClock monotonic, WallClock system) {
        this.monotonic = monotonic;
        this.system = system;
        this.startedAtNanos = monotonic.nanos();
        look();
    }

    /** Asks the machine whether its clock has been set; call it every second or so. */
    public void look() {
        if (!isSystemTrusted && system.isTrusted()) {
            isSystemTrusted = true;
        }
    }

    @Override
    public boolean isTrusted() {
        return isSystemTrusted || told.isPresent();
    }

    /** Ask {@link #isTrusted()} first: whoever vouches has set the clock before saying so. */
    @Override
    public Instant now() {
        Optional<Told> there = told;
        return isSystemTrusted || there.isEmpty()
                ? system.now()
                : there.get().at(monotonic.nanos());
    }

    /**
     * A monitor that may operate tells the time.
     *
     * @param by its name
     * @param wall its wall clock, when it answered
     * @param askedAtNanos when it was asked, on our monotonic clock
     * @param earliest the newest moment of an earlier run that is journalled by a trusted clock:
     *     this run began after it
     */
    public synchronized Outcome tell(
            String by, Instant wall, long askedAtNanos, Optional<Instant> earliest) {
        look();
        if (isSystemTrusted || (told.isPresent() && !told.get().by().equals(by))) {
            return Outcome.NOT_NEEDED;
        }
        long nowNanos = monotonic.nanos();
        long roundTripNanos = nowNanos - askedAtNanos;
        if (roundTripNanos < 0 || roundTripNanos > ROUND_TRIP_MAX.toNanos()) {
            return Outcome.TOO_SLOW;
        }
        Instant now = wall.plusNanos(roundTripNanos / 2);
        if (told.isPresent()) {
            return follow(told.get(), now, nowNanos);
        }
        Instant began = now.minusNanos(nowNanos - startedAtNanos);
        if (earliest.isPresent() && began.isBefore(earliest.get())) {
            Duration early = Duration.between(began, earliest.get());
            if (early.compareTo(RAISED_MAX) > 0) {
                return Outcome.REFUSED;
            }
            now = now.plus(early);
        }
        told = Optional.of(new Told(by, now, nowNanos, 0));
        return Outcome.TAKEN;
    }

    private Outcome follow(Told before, Instant now, long nowNanos) {
        Instant ours = before.at(nowNanos);
        Duration ahead = Duration.between(ours, now);
        if (ahead.abs().compareTo(RAISED_MAX) > 0) {
            return Outcome.REFUSED;
        }
        told = Optional.of(new Told(before.by(), ours, nowNanos, ahead.toNanos()));
        return Outcome.TAKEN;
    }

    /** Whether the wall clock is right and who says so, for a person. */
    public String words() {
        if (isSystemTrusted) {
            return "set by the system's time service";
        }
        return told.map(there -> "told by monitor " + there.by())
                .orElse("not set since the boot: dates are corrected once it is");
    }
}
