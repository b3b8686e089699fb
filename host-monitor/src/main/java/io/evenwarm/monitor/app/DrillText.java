package io.evenwarm.monitor.app;

import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.store.DrillReport;
import io.evenwarm.monitor.store.DrillReport.Hand;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.Optional;

/** A drill's timing report. */
record DrillText(CabinetKey cabinet, DrillReport report) {

    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("EEE d MMM uuuu HH:mm:ss zzz", Locale.ENGLISH);

    /** For a person; each line ends with a line break. */
    String lines(ZoneId zone) {
        StringBuilder text = new StringBuilder();
        text.append("Drill of ")
                .append(CabinetChoice.full(cabinet))
                .append(", asked for ")
                .append(TIME.format(report.asked().atZone(zone)))
                .append(": ")
                .append(report.outcome())
                .append('\n');
        line(text, "asked for to alarm raised", span(Optional.of(report.asked()), report.raised()));
        line(text, "alarm raised to notice queued", span(report.raised(), queued()));
        for (Hand hand : report.hands()) {
            boolean isOver = hand.state().equals("delivered");
            line(
                    text,
                    "queued to handed over to " + hand.person() + " by " + hand.channel(),
                    (isOver
                                    ? span(Optional.of(hand.queued()), hand.ended())
                                    : "not handed over, " + hand.state())
                            + (hand.tries() > 0 ? ", after " + hand.tries() + " that failed" : "")
                            + (hand.words().isBlank() ? "" : ": " + hand.words()));
        }
        line(
                text,
                "first handed over to acknowledged",
                span(handedOver(), report.acknowledged().map(DrillReport.Acknowledged::at))
                        + report.acknowledged().map(there -> ", by " + there.who()).orElse(""));
        line(
                text,
                "asked for to acknowledged",
                span(
                        Optional.of(report.asked()),
                        report.acknowledged().map(DrillReport.Acknowledged::at)));
        return text.toString();
    }

    private static void line(StringBuilder text, String leg, String value) {
        text.append(String.format(Locale.ROOT, "  %-48s %s%n", leg, value));
    }

    private Optional<Instant> queued() {
        return report.hands().stream().map(Hand::queued).min(Instant::compareTo);
    }

    private Optional<Instant> handedOver() {
        return report.hands().stream()
                .filter(hand -> hand.state().equals("delivered"))
                .flatMap(hand -> hand.ended().stream())
                .min(Instant::compareTo);
    }

    private static String span(Optional<Instant> from, Optional<Instant> to) {
        return from.flatMap(start -> to.map(end -> Duration.between(start, end)))
                .map(length -> String.format(Locale.ROOT, "%.3f s", length.toMillis() / 1000.0))
                .orElse("did not happen");
    }

    /** One object; times as they were, spans are the reader's to take. */
    String json() {
        return Json.object(
                Json.member("agent", Json.text(cabinet.agent().value())),
                Json.member("cabinet", Json.text(cabinet.cabinet().value())),
                Json.member("outcome", Json.text(report.outcome())),
                Json.member("asked", Json.text(report.asked().toString())),
                Json.member("taken", time(report.taken())),
                Json.member("raised", time(report.raised())),
                Json.member("queued", time(queued())),
                Json.member("firstHandedOver", time(handedOver())),
                Json.member(
                        "acknowledged",
                        time(report.acknowledged().map(DrillReport.Acknowledged::at))),
                Json.member(
                        "acknowledgedBy",
                        Json.text(report.acknowledged().map(DrillReport.Acknowledged::who))),
                Json.member("ended", time(report.ended())),
                Json.member(
                        "deliveries",
                        Json.array(report.hands().stream().map(DrillText::json).toList())));
    }

    private static String json(Hand hand) {
        return Json.object(
                Json.member("person", Json.text(hand.person())),
                Json.member("channel", Json.text(hand.channel())),
                Json.member("state", Json.text(hand.state())),
                Json.member("queued", Json.text(hand.queued().toString())),
                Json.member("ended", time(hand.ended())),
                Json.member("failedTries", Integer.toString(hand.tries())),
                Json.member("words", Json.text(hand.words())));
    }

    private static String time(Optional<Instant> time) {
        return Json.text(time.map(Instant::toString));
    }
}
