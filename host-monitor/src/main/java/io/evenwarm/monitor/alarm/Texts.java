package io.evenwarm.monitor.alarm;

import io.evenwarm.message.CabinetSnapshot;
import java.time.Duration;
import java.util.Locale;

/** Words with values in them. */
final class Texts {

    private static final long SECONDS_PER_MINUTE = 60;
    private static final long MINUTES_PER_HOUR = 60;
    private static final long MINUTES_WRITTEN_MAX = 120;
    private static final long SECONDS_WRITTEN_MAX = 120;

    private Texts() {}

    /** As in "28 s", "45 min", "3 h 20 min"; rounded down, so that it never promises too much. */
    static String length(Duration length) {
        long seconds = length.toSeconds();
        if (seconds < SECONDS_WRITTEN_MAX) {
            return seconds + " s";
        }
        long minutes = seconds / SECONDS_PER_MINUTE;
        if (minutes < MINUTES_WRITTEN_MAX) {
            return minutes + " min";
        }
        long rest = minutes % MINUTES_PER_HOUR;
        return minutes / MINUTES_PER_HOUR + " h" + (rest == 0 ? "" : " " + rest + " min");
    }

    /** What the agent does by itself now. */
    static String agentsAction(CabinetSnapshot snapshot) {
        return snapshot.guard().words() + (snapshot.heaterOn() ? ", heater on" : ", heater off");
    }

    static String celsius(double celsius) {
        return String.format(Locale.ROOT, "%.1f °C", celsius);
    }

    static String kelvin(double kelvin) {
        return String.format(Locale.ROOT, "%.1f K", kelvin);
    }

    static String percent(double percent) {
        return String.format(Locale.ROOT, "%.0f %%", percent);
    }
}
