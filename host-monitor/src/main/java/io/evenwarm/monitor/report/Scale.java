package io.evenwarm.monitor.report;

import java.time.Duration;
import java.util.List;

/** Round steps of an axis. */
final class Scale {

    private static final List<Duration> TIMES =
            List.of(
                    Duration.ofMinutes(5),
                    Duration.ofMinutes(15),
                    Duration.ofMinutes(30),
                    Duration.ofHours(1),
                    Duration.ofHours(2),
                    Duration.ofHours(3),
                    Duration.ofHours(6),
                    Duration.ofHours(12),
                    Duration.ofDays(1),
                    Duration.ofDays(2),
                    Duration.ofDays(7));

    private Scale() {}

    /** A round step of which four to nine fill the axis. */
    static double step(double range) {
        double power = Math.pow(10, Math.floor(Math.log10(range / 4)));
        double share = range / 4 / power;
        return power * (share >= 5 ? 5 : share >= 2 ? 2 : 1);
    }

    /** The least round step of time of which at most nine fill the axis; 7 days at most. */
    static Duration step(Duration range) {
        for (Duration step : TIMES) {
            if (step.multipliedBy(9).compareTo(range) >= 0) {
                return step;
            }
        }
        return TIMES.get(TIMES.size() - 1);
    }
}
