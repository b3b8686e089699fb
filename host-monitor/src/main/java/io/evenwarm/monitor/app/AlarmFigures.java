package io.evenwarm.monitor.app;

import io.evenwarm.monitor.alarm.AlarmPerformance;
import io.evenwarm.monitor.alarm.Priority;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.Collection;
import java.util.Locale;
import java.util.TreeSet;

/**
 * How well alarms served, as {@code evenwarm alarms --figures} prints it. The bars in brackets are
 * those of ISA-18.2, IEC 62682 and EEMUA 191, from memory of them.
 */
final class AlarmFigures {

    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm zzz", Locale.ENGLISH);

    private AlarmFigures() {}

    static String text(AlarmPerformance served, ZoneId zone) {
        StringBuilder text = new StringBuilder();
        add(
                text,
                "How well alarms served, %s to %s. In brackets: what the standards ask.",
                TIME.format(served.span().from().atZone(zone)),
                TIME.format(served.span().to().atZone(zone)));
        add(
                text,
                "  told               %d, %.3f an hour (6 at most)",
                served.annunciations(),
                served.anHour());
        add(
                text,
                "  most               %d in ten minutes (10 at most), %d in an hour (30 at most)",
                served.mostInTenMinutes(),
                served.mostInOneHour());
        add(
                text,
                "  flood              %.2f %% of the time (under 1 %%), begun %d times",
                percent(served.floodShare()),
                served.floods());
        add(
                text,
                "  low, medium, high  %.0f, %.0f, %.0f %% (about 80, 15, 5 %%)",
                percent(served.share(Priority.LOW)),
                percent(served.share(Priority.MEDIUM)),
                percent(served.share(Priority.HIGH)));
        add(text, "  chattering         %s (none)", names(served.chattering()));
        add(
                text,
                "  over 24 h          %s; at most %d on one day (under 5)",
                names(served.stale()),
                served.mostStaleOnADay());
        add(
                text,
                "  at the end         %d stand, %d put away",
                served.standing(),
                served.putAway());
        add(
                text,
                "  ten most frequent  %.0f %% of all (1 to 5 %%)",
                percent(served.frequentShare()));
        for (AlarmPerformance.Frequent one : served.frequent()) {
            add(text, "    %4d × %s", one.count(), one.alarm());
        }
        return text.toString().stripTrailing();
    }

    private static void add(StringBuilder text, String line, Object... values) {
        text.append(String.format(Locale.ROOT, line, values)).append('\n');
    }

    private static double percent(double share) {
        return 100 * share;
    }

    private static String names(Collection<String> alarms) {
        return alarms.isEmpty() ? "none" : String.join(", ", new TreeSet<>(alarms));
    }

    static String json(AlarmPerformance served) {
        return Json.object(
                Json.member("from", Json.text(served.span().from().toString())),
                Json.member("to", Json.text(served.span().to().toString())),
                count("annunciations", served.annunciations()),
                share("annunciationsAnHour", served.anHour()),
                count("mostInTenMinutes", served.mostInTenMinutes()),
                count("mostInAnHour", served.mostInOneHour()),
                share("busyTenMinutesShare", served.busyTenMinutes()),
                share("busyHoursShare", served.busyHours()),
                count("floods", served.floods()),
                share("floodShare", served.floodShare()),
                share("lowShare", served.share(Priority.LOW)),
                share("mediumShare", served.share(Priority.MEDIUM)),
                share("highShare", served.share(Priority.HIGH)),
                Json.member("chattering", Json.texts(new TreeSet<>(served.chattering()))),
                Json.member("stale", Json.texts(new TreeSet<>(served.stale()))),
                count("mostStaleOnADay", served.mostStaleOnADay()),
                count("standing", served.standing()),
                count("putAway", served.putAway()),
                share("mostFrequentShare", served.frequentShare()),
                Json.member(
                        "mostFrequent",
                        Json.array(served.frequent().stream().map(AlarmFigures::json).toList())));
    }

    private static String json(AlarmPerformance.Frequent one) {
        return Json.object(
                Json.member("alarm", Json.text(one.alarm())), count("count", one.count()));
    }

    private static String count(String name, int count) {
        return Json.member(name, Integer.toString(count));
    }

    private static String share(String name, double share) {
        return Json.member(name, EvennessJson.number(share));
    }
}
