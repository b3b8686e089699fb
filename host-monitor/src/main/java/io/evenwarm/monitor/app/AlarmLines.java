package io.evenwarm.monitor.app;

import io.evenwarm.monitor.alarm.AlarmChange;
import io.evenwarm.monitor.alarm.Trigger;
import io.evenwarm.monitor.alert.AlarmBoard;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Queue;

/**
 * Alarms and their changes as lines for a terminal, one each, between the thread that makes them
 * and the one that prints: a terminal that stands still must not hold the alarms up. As in the
 * status lines, what an agent wrote stays in Celsius.
 */
final class AlarmLines {

    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("HH:mm:ss", Locale.ROOT);

    private static final DateTimeFormatter DAY_TIME =
            DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm", Locale.ROOT);

    /** More than a person reads in a standing terminal. */
    private static final int WAITING_MAX = 256;

    private final ZoneId zone;
    private final Object lock = new Object();

    /** Both guarded by {@link #lock}. */
    private final Queue<String> waiting = new ArrayDeque<>();

    private int dropped;

    AlarmLines(ZoneId zone) {
        this.zone = zone;
    }

    /** Never waits; the oldest line gives way. */
    void add(AlarmChange change) {
        String line = line(change);
        synchronized (lock) {
            if (waiting.size() >= WAITING_MAX) {
                waiting.remove();
                dropped++;
            }
            waiting.add(line);
        }
    }

    /** Those that were open before: nobody may take a restart for an end. */
    List<String> open(List<AlarmBoard.Entry> alarms) {
        return alarms.stream()
                .map(
                        alarm ->
                                "open alarm, "
                                        + alarm.priority().words()
                                        + ", "
                                        + alarm.state().words()
                                        + ": "
                                        + alarm.key().subject()
                                        + ", "
                                        + alarm.key().trouble()
                                        + ", since "
                                        + DAY_TIME.format(alarm.since().atZone(zone)))
                .toList();
    }

    /** What came since the last time. */
    List<String> take() {
        synchronized (lock) {
            List<String> lines = new ArrayList<>();
            if (dropped > 0) {
                lines.add(dropped + " alarm lines are left out here; the alarm log has them");
                dropped = 0;
            }
            lines.addAll(waiting);
            waiting.clear();
            return lines;
        }
    }

    /** What a person must hear stands in capitals, with what to do; else what became of it. */
    private String line(AlarmChange change) {
        String begin =
                TIME.format(change.at().wall().atZone(zone))
                        + (change.isAnnunciation() ? "  ALARM, " : "  alarm ")
                        + (change.isAnnunciation()
                                ? change.priority().words()
                                : change.to().words())
                        + ": "
                        + change.key().subject()
                        + ", "
                        + change.key().trouble();
        if (!change.isAnnunciation()) {
            return begin + ". By " + change.who() + ": " + oneLine(change.why());
        }
        return begin
                + (change.trigger() == Trigger.OCCURRED
                        ? ""
                        : " (" + change.trigger().words() + ")")
                + ". "
                + sentence(change.words().evidence())
                + change.timeLeft()
                        .map(left -> " Eggs have " + AlarmBoard.words(left) + ".")
                        .orElse("")
                + (change.words().advice().isBlank()
                        ? ""
                        : " Do first: " + sentence(change.words().advice()));
    }

    private static String sentence(String words) {
        String line = oneLine(words);
        return line.isEmpty() || line.endsWith(".") ? line : line + ".";
    }

    private static String oneLine(String words) {
        return words.replaceAll("\\s+", " ").strip();
    }
}
