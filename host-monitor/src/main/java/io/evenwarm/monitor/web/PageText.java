package io.evenwarm.monitor.web;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.monitor.alarm.WithoutHeat;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.live.AgentState;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.LiveView;
import io.evenwarm.monitor.live.Liveness;
import io.evenwarm.monitor.web.PageAlarms.OpenAlarm;
import io.evenwarm.quantity.Quantity;
import io.evenwarm.quantity.TemperatureUnit;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** The page's HTML. Pure: what is known now in, text out. */
final class PageText {

    private static final DateTimeFormatter CLOCK =
            DateTimeFormatter.ofPattern("EEE d MMM HH:mm:ss zzz", Locale.ENGLISH);
    private static final long MINUTE_SECONDS = 60;
    private static final long HOURS_FROM_SECONDS = 7200;

    private final TemperatureUnit unit;
    private final ZoneId zone;

    PageText(TemperatureUnit unit, ZoneId zone) {
        this.unit = unit;
        this.zone = zone;
    }

    private static String document(String head, String body) {
        return "<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\">"
                + "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">"
                + "<title>Evenwarm</title>"
                + "<link rel=\"stylesheet\" href=\"/page.css\"><link rel=\"icon\" href=\"data:,\">"
                + head
                + "</head><body>"
                + body
                + "</body></html>";
    }

    /** The whole page, with what is known now already in it. */
    String page(Visitor visitor, LiveView live, PageAlarms alarms, Instant now) {
        return document(
                "<noscript><meta http-equiv=\"refresh\" content=\"20\"></noscript>"
                        + "<script src=\"/page.js\" defer></script>",
                "<header><h1>Cabinets</h1><form method=\"post\" action=\"/leave\"><span"
                        + " class=\"quiet\">"
                        + Html.text(visitor.name())
                        + (visitor.mayAcknowledge() ? "" : ", may look")
                        + "</span> <button>Leave</button></form></header>"
                        + "<div id=\"old\" class=\"old\" role=\"alert\" hidden></div>"
                        + "<main id=\"now\">"
                        + now(visitor, live, alarms, now)
                        + "</main>");
    }

    /** What changes: alarms and cabinets. */
    String now(Visitor visitor, LiveView live, PageAlarms alarms, Instant now) {
        StringBuilder html = new StringBuilder(8192);
        html.append("<p class=\"quiet alarms\">As of ")
                .append(Html.text(CLOCK.format(now.atZone(zone))))
                .append("</p>");
        alarms(html, visitor, alarms.open(), now);
        for (AgentState agent : live.agents()) {
            if (!agent.connected()) {
                html.append("<section class=\"card alarms\"><div class=\"row\"><h2>Agent ")
                        .append(Html.text(agent.agent().value()))
                        .append("</h2><span class=\"word bad\">NO LINK</span></div><p>")
                        .append(Html.text(agent.words()))
                        .append("</p></section>");
            }
        }
        boolean isOneAgent = live.agents().size() == 1;
        for (LiveCabinet cabinet : live.cabinets()) {
            cabinet(html, cabinet, alarms.withoutHeat(cabinet.key()), isOneAgent);
        }
        if (live.cabinets().isEmpty()) {
            html.append("<p>No cabinet has been seen since the monitor's start.</p>");
        }
        return html.toString();
    }

    private void alarms(StringBuilder html, Visitor visitor, List<OpenAlarm> alarms, Instant now) {
        html.append("<section class=\"card alarms\"><div class=\"row\"><h2>Alarms</h2>");
        if (alarms.isEmpty()) {
            html.append("<span class=\"word good\">NONE</span></div></section>");
            return;
        }
        html.append("<span class=\"word bad\">").append(alarms.size()).append(" OPEN</span></div>");
        for (OpenAlarm alarm : alarms) {
            html.append("<div class=\"alarm")
                    .append(alarm.isAcknowledged() ? " taken" : "")
                    .append("\"><div class=\"row\"><strong>")
                    .append(
                            alarm.cabinet()
                                    .map(key -> Html.text(key.cabinet().value()) + ": ")
                                    .orElse(""))
                    .append(Html.text(alarm.headline()))
                    .append("</strong><span>")
                    .append(Html.text(alarm.priority()))
                    .append("</span></div><p>")
                    .append(Html.text(alarm.detail()))
                    .append(" <span class=\"quiet\">Since ")
                    .append(Html.text(CLOCK.format(alarm.since().atZone(zone))))
                    .append(", ")
                    .append(age(Duration.between(alarm.since(), now)))
                    .append(".</span></p><p>")
                    .append(Html.text(alarm.advice()))
                    .append("</p>");
            if (alarm.isAcknowledged()) {
                html.append("<p class=\"quiet\">Acknowledged.</p>");
            } else if (visitor.mayAcknowledge()) {
                html.append(
                                "<form method=\"post\" action=\"/acknowledge\"><input type=\"hidden\""
                                        + " name=\"alarm\" value=\"")
                        .append(Html.text(alarm.id()))
                        .append("\"><button>Acknowledge</button></form>");
            }
            html.append("</div>");
        }
        html.append("</section>");
    }

    private void cabinet(
            StringBuilder html,
            LiveCabinet cabinet,
            Optional<WithoutHeat> withoutHeat,
            boolean isOneAgent) {
        CabinetSnapshot snapshot = cabinet.snapshot();
        boolean isGone = cabinet.liveness() != Liveness.LIVE;
        html.append("<section class=\"card")
                .append(isGone ? " gone" : "")
                .append("\"><div class=\"row\"><h2>")
                .append(Html.text(title(cabinet.key(), isOneAgent)))
                .append("</h2>")
                .append(state(cabinet))
                .append("</div><div class=\"row\"><span class=\"air\">")
                .append(
                        snapshot.processValue()
                                .map(air -> Html.text(unit.format(air, 2)))
                                .orElse("no good probe"))
                .append("</span><span class=\"quiet\">set ")
                .append(Html.text(unit.format(snapshot.setPoint(), 1)))
                .append("<br>heat ")
                .append(Math.round(snapshot.duty().percent()))
                .append(" %, ")
                .append(Html.text(snapshot.guard().words()))
                .append("</span></div><table>");
        int drawn = 0;
        for (ProbeReading probe : snapshot.probes()) {
            boolean isDrawn = isTemperature(probe) && DaySketch.isDrawn(probe.place());
            html.append("<tr><td>")
                    .append(isDrawn ? mark(drawn) : "")
                    .append(Html.text(probe.probe().value()))
                    .append("</td><td>")
                    .append(Html.text(value(probe)))
                    .append("</td></tr>");
            drawn += isDrawn ? 1 : 0;
        }
        html.append("</table>");
        withoutHeat.ifPresent(
                its -> html.append("<p>").append(Html.text(words(its, cabinet))).append("</p>"));
        for (Finding finding : snapshot.findings()) {
            html.append("<p><strong>")
                    .append(Html.text(finding.code().value().replace('-', ' ')))
                    .append("</strong>: ")
                    .append(Html.text(finding.evidence()))
                    .append("</p>");
        }
        html.append("<img width=\"")
                .append(DaySketch.WIDTH)
                .append("\" height=\"")
                .append(DaySketch.HEIGHT)
                .append("\" alt=\"The last 24 hours of ")
                .append(Html.text(title(cabinet.key(), false)))
                .append("\" src=\"/day.svg?agent=")
                .append(encoded(cabinet.key().agent().value()))
                .append("&amp;cabinet=")
                .append(encoded(cabinet.key().cabinet().value()))
                .append("&amp;at=")
                .append(snapshot.moment().wall().getEpochSecond() / MINUTE_SECONDS)
                .append("\"></section>");
    }

    /** How long the eggs would have, from now on also where the cabinet has fallen silent. */
    private String words(WithoutHeat its, LiveCabinet cabinet) {
        boolean isLive = cabinet.liveness() == Liveness.LIVE;
        return its.timeWords(unit, isLive ? Optional.empty() : Optional.of(cabinet.sinceReceived()))
                + " "
                + its.eggWords(unit, isLive);
    }

    private static String encoded(String text) {
        return URLEncoder.encode(text, StandardCharsets.UTF_8);
    }

    private static String mark(int index) {
        return "<svg class=\"mark\" viewBox=\"0 0 14 4\"><rect width=\"14\" height=\"4\" fill=\""
                + DaySketch.colour(index)
                + "\"/></svg>";
    }

    private static boolean isTemperature(ProbeReading probe) {
        return probe.reading()
                .quantity()
                .map(quantity -> quantity.fold(temperature -> true, humidity -> false))
                .orElse(true);
    }

    private static String title(CabinetKey key, boolean isOneAgent) {
        return isOneAgent ? key.cabinet().value() : key.agent() + " / " + key.cabinet();
    }

    private static String state(LiveCabinet cabinet) {
        return switch (cabinet.liveness()) {
            case LIVE ->
                    cabinet.snapshot().findings().isEmpty()
                            ? "<span class=\"word good\">ALL WELL</span>"
                            : "<span class=\"word bad\">LOOK</span>";
            case STALE ->
                    "<span class=\"word bad\">OLD, " + age(cabinet.sinceReceived()) + "</span>";
            case LOST ->
                    "<span class=\"word bad\">UNKNOWN for "
                            + age(cabinet.sinceReceived())
                            + "</span>";
        };
    }

    private String value(ProbeReading probe) {
        return probe.reading()
                .fold(
                        good -> value(good.value()),
                        uncertain -> value(uncertain.value()) + ", " + uncertain.doubt().words(),
                        bad -> bad.doubt().words());
    }

    private String value(Quantity quantity) {
        return quantity.fold(
                temperature -> unit.format(temperature, 2),
                humidity -> String.format(Locale.ROOT, "%.0f %% rh", humidity.percent()));
    }

    private static String age(Duration age) {
        long seconds = Math.max(0, age.toSeconds());
        if (seconds < 2 * MINUTE_SECONDS) {
            return seconds + " s";
        }
        return seconds < HOURS_FROM_SECONDS
                ? seconds / MINUTE_SECONDS + " min"
                : seconds / (MINUTE_SECONDS * MINUTE_SECONDS) + " h";
    }

    /** For somebody without a session; tells nothing of the keeper. */
    static String closed() {
        return document(
                "",
                "<p>This page is open to those who were given a link. A link opens once, within a"
                        + " day. Ask for one at the monitor: <code>evenwarm page link"
                        + " NAME</code>.</p>");
    }

    /** Behind a link: only a press opens it, since scanners of mail open links by themselves. */
    static String enter(String link) {
        return document(
                "",
                "<form method=\"post\" action=\"/enter\"><input type=\"hidden\" name=\"link\""
                        + " value=\""
                        + Html.text(link)
                        + "\"><p>Open the cabinets' page in this browser?</p>"
                        + "<button>Open</button></form>");
    }

    /** Behind the link of a notice: what it said, and a button. */
    static String answer(String token, NoticeAnswers.Told told) {
        return document(
                "",
                "<main><section class=\"card alarms\"><h1>"
                        + Html.text(told.subject())
                        + "</h1><p class=\"said\">"
                        + Html.text(told.body())
                        + "</p><form method=\"post\" action=\"/answer\"><input type=\"hidden\""
                        + " name=\"token\" value=\""
                        + Html.text(token)
                        + "\"><button>Acknowledge</button></form><p class=\"quiet\">That is what the"
                        + " notice said when it was written.</p></section></main>");
    }

    /** What came of a press on that button. */
    static String said(String words) {
        return document("", "<p>" + Html.text(words) + "</p>");
    }

    /** For a link that is none, or no longer one. */
    static String noAnswer() {
        return said("This link is none, or its event is over. A newer notice has a newer link.");
    }

    /** Something did not work. */
    static String sorry(String words) {
        return document("", "<p>" + Html.text(words) + "</p><p><a href=\"/\">Back</a></p>");
    }
}
