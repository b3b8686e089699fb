package io.evenwarm.monitor.alarm;

import io.evenwarm.message.CabinetSnapshot;
import java.util.Optional;

/**
 * Where a cabinet's process value comes from: what it was a quarter to half an hour ago.
 *
 * @param olderCelsius process value at {@code olderNanos}, °C
 * @param olderNanos monotonic time, the same as {@code newerNanos} in the first quarter of an hour
 * @param newerCelsius process value at {@code newerNanos}, °C
 * @param newerNanos monotonic time, at most a quarter of an hour ago
 * @param isRising whether it rises by {@value #RISING_KELVIN_PER_HALF_HOUR} K in half an hour
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
    private static final double HALF_HOUR_NANOS = 1.8e12;

    /** After one more snapshot; empty until there was a process value. */
    static Optional<Course> after(Optional<Course> before, CabinetSnapshot snapshot, Now now) {
        if (snapshot.processValue().isEmpty()) {
            return before;
        }
        double celsius = snapshot.processValue().get().celsius();
        long nanos = now.nanos();
        return Optional.of(
                before.map(course -> course.next(celsius, nanos))
                        .orElseGet(() -> new Course(celsius, nanos, celsius, nanos, false)));
    }

    private Course next(double celsius, long nanos) {
        long elapsed = nanos - olderNanos;
        boolean rises =
                elapsed >= STEP_NANOS
                        && (celsius - olderCelsius) / elapsed
                                >= RISING_KELVIN_PER_HALF_HOUR / HALF_HOUR_NANOS;
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
