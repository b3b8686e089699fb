package io.evenwarm.monitor.notice;

import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureDifference;
import io.evenwarm.quantity.TemperatureUnit;
import io.evenwarm.quantity.TemperatureWords;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Makes the words of a notice from its facts. All cabinets of an event are in one message, those
 * whose eggs have least time first. The subject begins with what a phone's lock screen has room
 * for: how soon, where, what. Pure.
 */
public final class NoticeWriter {

    /**
     * A phone shows the first forty or so; mail servers take up to 998 octets (RFC 5322 s.2.1.1).
     */
    private static final int SUBJECT_MAX = 120;

    private static final int TEXT_MAX = 200;
    private static final int NAME_MAX = 40;
    private static final int LIST_MAX = 20;

    /** More than an event can have; the rest is counted. */
    private static final int CABINETS_MAX = 100;

    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("EEE d MMM uuuu HH:mm zzz", Locale.ENGLISH);

    /** So slow a change is called steady. */
    private static final double STEADY_KELVIN_PER_HOUR = 0.05;

    private final TemperatureUnit unit;
    private final ZoneId zone;

    /**
     * Writes for people.
     *
     * @param unit of the temperatures in it
     * @param zone of the times in it
     */
    public NoticeWriter(TemperatureUnit unit, ZoneId zone) {
        this.unit = unit;
        this.zone = zone;
    }

    /**
     * Writes a notice.
     *
     * @param cabinets all that the event is about, at least one
     */
    public Notice write(
            String eventId,
            int revision,
            NoticeKind kind,
            Instant at,
            NoticePriority priority,
            List<CabinetFacts> cabinets) {
        if (cabinets.isEmpty()) {
            throw new IllegalArgumentException("a notice is about at least one cabinet");
        }
        List<CabinetFacts> sorted =
                cabinets.stream()
                        .sorted(
                                Comparator.comparing(
                                                (CabinetFacts facts) ->
                                                        facts.timeLeft()
                                                                .orElse(
                                                                        Duration.ofSeconds(
                                                                                Long.MAX_VALUE)))
                                        .thenComparing(CabinetFacts::cabinet))
                        .toList();
        return new Notice(
                eventId,
                revision,
                kind,
                at,
                priority,
                subject(kind, revision, priority, sorted),
                body(eventId, revision, kind, at, priority, sorted),
                sorted);
    }

    private String subject(
            NoticeKind kind, int revision, NoticePriority priority, List<CabinetFacts> cabinets) {
        String matter =
                cabinets.size() == 1 ? matter(cabinets.get(0), kind) : matter(cabinets, kind);
        String line =
                switch (kind) {
                    case FIRST -> priority.call() + ": " + matter;
                    case FOLLOW_UP -> priority.call() + " (update " + revision + "): " + matter;
                    case ALL_CLEAR -> "All clear: " + matter;
                    case DRILL -> "DRILL, nothing is wrong: " + matter;
                    case DRILL_OVER -> "DRILL over, nothing was wrong: " + matter;
                };
        return PlainLine.of(line, SUBJECT_MAX);
    }

    private String matter(CabinetFacts facts, NoticeKind kind) {
        String name = PlainLine.of(facts.cabinet(), NAME_MAX);
        String what = PlainLine.of(facts.what(), NAME_MAX);
        if (kind == NoticeKind.ALL_CLEAR) {
            return name + " no longer " + what;
        }
        return name
                + " "
                + what
                + temperatures(facts).map(words -> ", " + words).orElse("")
                + facts.timeLeft().map(left -> ", " + left(left)).orElse("");
    }

    private static String matter(List<CabinetFacts> cabinets, NoticeKind kind) {
        Set<String> whats = new LinkedHashSet<>();
        cabinets.forEach(facts -> whats.add(PlainLine.of(facts.what(), NAME_MAX)));
        String what = String.join(", ", whats);
        String names =
                cabinets.stream()
                        .map(facts -> PlainLine.of(facts.cabinet(), NAME_MAX))
                        .collect(Collectors.joining(", "));
        if (kind == NoticeKind.ALL_CLEAR) {
            return cabinets.size() + " cabinets no longer " + what + ": " + names;
        }
        // They are sorted: the first has the least.
        return cabinets.size()
                + " cabinets "
                + what
                + cabinets.get(0).timeLeft().map(left -> ", " + left(left)).orElse("")
                + ": "
                + names;
    }

    /** From the lowest to the highest that is known. */
    private Optional<String> temperatures(CabinetFacts facts) {
        List<Temperature> known =
                Stream.of(facts.top(), facts.middle(), facts.bottom())
                        .flatMap(Optional::stream)
                        .sorted()
                        .toList();
        if (known.isEmpty()) {
            return Optional.empty();
        }
        String lowest = unit.format(known.get(0), 1);
        String highest = unit.format(known.get(known.size() - 1), 1);
        return Optional.of(lowest.equals(highest) ? lowest : lowest + " to " + highest);
    }

    private String body(
            String eventId,
            int revision,
            NoticeKind kind,
            Instant at,
            NoticePriority priority,
            List<CabinetFacts> cabinets) {
        StringBuilder text = new StringBuilder(1000);
        if (kind == NoticeKind.DRILL) {
            text.append("This is a drill. Nothing is wrong, and nothing must be done but to")
                    .append(" acknowledge it.\n\n");
        } else if (kind == NoticeKind.DRILL_OVER) {
            text.append("The drill is over. Nothing was wrong, and nothing must be done.\n\n");
        } else if (kind == NoticeKind.ALL_CLEAR) {
            text.append("This is over. The values are those of now.\n\n");
        } else {
            text.append(priority.call()).append(".\n\n");
        }
        for (CabinetFacts facts : cabinets.subList(0, Math.min(CABINETS_MAX, cabinets.size()))) {
            cabinet(text, facts, at, kind.isEnd());
        }
        if (cabinets.size() > CABINETS_MAX) {
            text.append("And ").append(cabinets.size() - CABINETS_MAX).append(" more.\n\n");
        }
        return text.append("Written ")
                .append(TIME.format(at.atZone(zone)))
                .append(". Event ")
                .append(eventId)
                .append(", notice ")
                .append(revision)
                .append(".\n")
                .toString();
    }

    private void cabinet(StringBuilder text, CabinetFacts facts, Instant at, boolean isOver) {
        text.append(PlainLine.of(facts.cabinet(), NAME_MAX))
                .append(": ")
                .append(isOver ? "no longer " : "")
                .append(PlainLine.of(facts.what(), TEXT_MAX))
                .append('\n');
        line(text, isOver ? "Began" : "Since", since(facts.since(), at));
        line(text, "Now", now(facts));
        if (facts.trendKelvinPerHour().isPresent()) {
            line(text, "Trend", trend(facts.trendKelvinPerHour().getAsDouble()));
        }
        facts.timeLeft()
                .ifPresent(left -> line(text, "Eggs have", left(left) + ", a careful estimate"));
        if (facts.timeLeft().isPresent() && !facts.restsOn().isBlank()) {
            line(text, "That rests on", told(facts.restsOn()));
        }
        list(text, "Tubs at stake", facts.tubsAtStake());
        list(text, "The agent did", facts.agentDid());
        if (!facts.doFirst().isBlank()) {
            line(text, isOver ? "Look at" : "Do first", told(facts.doFirst()));
        }
        list(text, "Tubs could go to", facts.couldGoTo());
        text.append('\n');
    }

    /** What the monitor wrote in Celsius, in the unit that was chosen. */
    private String told(String words) {
        return PlainLine.of(TemperatureWords.inUnit(words, unit), TEXT_MAX);
    }

    private static void line(StringBuilder text, String label, String value) {
        text.append("  ").append(label).append(": ").append(value).append('\n');
    }

    private void list(StringBuilder text, String label, List<String> items) {
        if (items.isEmpty()) {
            return;
        }
        String shown =
                items.stream().limit(LIST_MAX).map(this::told).collect(Collectors.joining("; "));
        line(
                text,
                label,
                items.size() > LIST_MAX ? shown + "; and " + (items.size() - LIST_MAX) : shown);
    }

    private String since(Instant since, Instant at) {
        Duration ago = Duration.between(since, at);
        // A clock that was put back may make it negative: then only the time is said.
        return TIME.format(since.atZone(zone))
                + (ago.isNegative() ? "" : ", " + span(ago) + " ago");
    }

    private String now(CabinetFacts facts) {
        List<String> parts = new ArrayList<>();
        facts.top().ifPresent(there -> parts.add("top " + unit.format(there, 1)));
        facts.middle().ifPresent(there -> parts.add("middle " + unit.format(there, 1)));
        facts.bottom().ifPresent(there -> parts.add("bottom " + unit.format(there, 1)));
        return parts.isEmpty() ? "no temperature is known" : String.join(", ", parts);
    }

    private String trend(double kelvinPerHour) {
        if (Math.abs(kelvinPerHour) < STEADY_KELVIN_PER_HOUR) {
            return "steady";
        }
        return (kelvinPerHour > 0 ? "rises " : "falls ")
                + unit.format(TemperatureDifference.ofKelvin(Math.abs(kelvinPerHour)), 1)
                + " an hour";
    }

    private static String left(Duration left) {
        return left.toMinutes() == 0 ? "no time left" : span(left) + " left";
    }

    /** Rounded down: whoever reads it has no less. */
    private static String span(Duration span) {
        long minutes = span.toMinutes();
        if (minutes < 60) {
            return minutes + " min";
        }
        long hours = minutes / 60;
        if (hours < 24) {
            return hours + " h " + minutes % 60 + " min";
        }
        return hours / 24 + " d " + hours % 24 + " h";
    }
}
