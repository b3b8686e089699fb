package io.evenwarm.monitor.alarm;

import io.evenwarm.message.CabinetSnapshot;
import java.util.Optional;

/**
 * Where a cabinet's process value comes from: what it was a quarter to half an hour ago, or, sooner
 * after an opening, when the door was last open. What it was before a hand let the warm air out
 * says nothing of whether it comes back.
 *
 * @param olderCelsius process value at {@code olderNanos}, °C
 * @param olderNanos monotonic time, the same as {@code newerNanos} in the first quarter of an hour
 *     of a course
 * @param newerCelsius process value at {@code newerNanos}, °C
 * @param newerNanos monotonic time, at most a quarter of an hour ago
 * @param isRising whether it rises by {@value #RISING_KELVIN_PER_HALF_HOUR} K in half an hour; from
 *     the fifth minute of a course on, when it rose by as much in that time
 */
public record Course(
        double olderCelsius,
        long olderNanos,
        double newerCelsius,
        long newerNanos,
        boolean isRising) {

    /** What an agent's own too-cold finding waits for, too. */
    static final double RISING_KELVIN_PER_HALF_HOUR = 0.15;

    private static final long STEP_NANOS = 900_000_000_000L;
    private static final long SOONEST_NANOS = 300_000_000_000L;
    private static final double HALF_HOUR_NANOS = 1.8e12;

    /**
     * After one more snapshot; empty until there was a process value.
     *
     * @param isOpen whether the door is open, by a switch or as the agent found
     */
    static Optional<Course> after(
            Optional<Course> before, CabinetSnapshot snapshot, boolean isOpen, Now now) {
        if (snapshot.processValue().isEmpty()) {
            return before;
        }
        double celsius = snapshot.processValue().get().celsius();
        long nanos = now.nanos();
        return Optional.of(
                before.filter(course -> !isOpen)
                        .map(course -> course.next(celsius, nanos))
                        .orElseGet(() -> new Course(celsius, nanos, celsius, nanos, false)));
    }

    private Course next(double celsius, long nanos) {
        long elapsed = nanos - olderNanos;
        double rise = celsius - olderCelsius;
        boolean rises =
                elapsed >= STEP_NANOS
                        ? rise / elapsed >= RISING_KELVIN_PER_HALF_HOUR / HALF_HOUR_NANOS
                        : elapsed >= SOONEST_NANOS && rise >= RISING_KELVIN_PER_HALF_HOUR;
        if (nanos - newerNanos >= STEP_NANOS) {
            return new Course(newerCelsius, newerNanos, celsius, nanos, rises);
        }
        return rises == isRising
                ? this
                : new Course(olderCelsius, olderNanos, newerCelsius, newerNanos, rises);
    }

    Course shifted(long byNanos) {
        return new Course(
                olderCelsius, olderNanos + byNanos, newerCelsius, newerNanos + byNanos, isRising);
    }
}
