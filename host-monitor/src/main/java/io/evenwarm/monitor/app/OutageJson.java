package io.evenwarm.monitor.app;

import io.evenwarm.message.Limits;
import io.evenwarm.monitor.alert.LoggedChange;
import io.evenwarm.monitor.notice.NoticeSent;
import io.evenwarm.monitor.outage.Edge;
import io.evenwarm.monitor.outage.EggBand;
import io.evenwarm.monitor.outage.HumidityAround;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.outage.Recovery;
import io.evenwarm.monitor.outage.TubExposure;
import io.evenwarm.monitor.report.OutageAccount;
import io.evenwarm.monitor.thermal.Span;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** Outages as JSON; what is reconstructed says so. */
final class OutageJson {

    private static final String NOTHING = "null";

    private OutageJson() {}

    static String list(List<Outage> outages) {
        return Json.object(
                Json.member("outages", Json.array(outages.stream().map(OutageJson::of).toList())));
    }

    static String of(Outage outage) {
        return Json.object(
                Json.member("event", Json.text(outage.id())),
                Json.member("agent", Json.text(outage.key().agent().value())),
                Json.member("cabinet", Json.text(outage.key().cabinet().value())),
                Json.member("kind", Json.text(word(outage.kind()))),
                Json.member("words", Json.text(outage.words())),
                Json.member("begin", of(outage.begin())),
                Json.member("end", of(outage.end())),
                Json.member(
                        "dark",
                        Json.array(
                                outage.dark().stream()
                                        .sorted()
                                        .map(dark -> Json.text(dark.words()))
                                        .toList())),
                Json.member("heat", Json.text(word(outage.heat()))),
                Json.member("evidence", Json.texts(outage.evidence())));
    }

    static String of(OutageAccount told) {
        return Json.object(
                Json.member("outage", of(told.review().outage())),
                Json.member("notKnown", Json.texts(told.review().notKnown())),
                Json.member(
                        "coldestEggs",
                        told.review().coldest().map(band -> of(band, told)).orElse(NOTHING)),
                Json.member(
                        "warmestEggs",
                        told.review().warmest().map(band -> of(band, told)).orElse(NOTHING)),
                Json.member("recovery", of(told.recovery())),
                Json.member(
                        "humidity",
                        Json.array(told.humidity().stream().map(OutageJson::of).toList())),
                Json.member(
                        "tubs",
                        Json.array(
                                told.review().tubs().stream().map(tub -> of(tub, told)).toList())),
                Json.member(
                        "alarms", Json.array(told.changes().stream().map(OutageJson::of).toList())),
                Json.member(
                        "notices",
                        Json.array(told.notices().stream().map(OutageJson::of).toList())));
    }

    private static String word(Enum<?> of) {
        return of.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    private static String of(HumidityAround humidity) {
        return Json.object(
                Json.member("probe", Json.text(humidity.probe())),
                Json.member("lastPercent", EvennessJson.number(humidity.lastPercent())),
                Json.member("firstPercent", EvennessJson.number(humidity.firstPercent())),
                Json.member("leastPercent", EvennessJson.number(humidity.leastPercent())),
                Json.member("greatestPercent", EvennessJson.number(humidity.greatestPercent())));
    }

    private static String of(TubExposure exposure, OutageAccount told) {
        return Json.object(
                Json.member("tub", Json.text(exposure.tub().name())),
                Json.member("shelf", Json.text(exposure.tub().shelf())),
                Json.member("contents", Json.text(exposure.tub().contents())),
                Json.member("isShelfKnown", Boolean.toString(exposure.isShelfKnown())),
                Json.member(
                        "eggs", exposure.eggs().map(band -> figures(band, told)).orElse(NOTHING)));
    }

    private static String of(NoticeSent notice) {
        return Json.object(
                Json.member("at", Json.text(notice.at().toString())),
                Json.member("kind", Json.text(notice.kind().word())),
                Json.member("priority", Json.text(notice.priority().word())),
                Json.member("subject", Json.text(notice.subject())),
                Json.member("person", Json.text(notice.person())),
                Json.member("channel", Json.text(notice.channel())),
                Json.member("state", Json.text(notice.state().word())),
                Json.member("ended", Json.text(notice.ended().map(Instant::toString))),
                Json.member("words", Json.text(notice.words())));
    }

    private static String of(Edge edge) {
        return Json.object(
                Json.member("earliest", Json.text(edge.earliest().toString())),
                Json.member("likely", Json.text(edge.likely().toString())),
                Json.member("latest", Json.text(edge.latest().toString())),
                Json.member("isClockSet", Boolean.toString(edge.isClockSet())));
    }

    private static String of(EggBand band, OutageAccount told) {
        List<String> points = new ArrayList<>();
        for (int i = 0; i < band.size(); i++) {
            points.add(
                    Json.object(
                            Json.member(
                                    "at",
                                    Json.text(
                                            Instant.ofEpochMilli(band.epochMillis(i)).toString())),
                            Json.member("celsius", of(band, band.celsius(i)))));
        }
        return Json.object(members(band, told, Json.member("curve", Json.array(points))));
    }

    private static String figures(EggBand band, OutageAccount told) {
        return Json.object(members(band, told));
    }

    private static String[] members(EggBand band, OutageAccount told, String... more) {
        List<String> limits = new ArrayList<>();
        limits.add(limit("eggs-cold-limit", told.eggsColdLimitCelsius(), band));
        Optional<Limits> known = told.limits();
        known.ifPresent(
                its -> {
                    limits.add(limit("too-cold", its.tooCold().celsius(), band));
                    limits.add(limit("too-warm", its.tooWarm().celsius(), band));
                    limits.add(limit("cut-off", its.cutOff().celsius(), band));
                    limits.add(limit("ceiling", its.ceiling().celsius(), band));
                });
        List<String> members = new ArrayList<>();
        boolean isGap = told.review().outage().isGap();
        members.add(Json.member("isReconstructed", Boolean.toString(isGap)));
        members.add(Json.member("isEstimated", Boolean.toString(!isGap)));
        members.add(Json.member("leastCelsius", of(band, band.leastCelsius())));
        members.add(Json.member("greatestCelsius", of(band, band.greatestCelsius())));
        members.add(Json.member("limits", Json.array(limits)));
        members.addAll(List.of(more));
        return members.toArray(new String[0]);
    }

    private static String limit(String name, double celsius, EggBand band) {
        return Json.object(
                Json.member("limit", Json.text(name)),
                Json.member("celsius", EvennessJson.number(celsius)),
                Json.member("hoursBelow", of(band, band.hoursBelow(celsius))),
                Json.member("kelvinHoursBelow", of(band, band.degreeHoursBelow(celsius))),
                Json.member("hoursAbove", of(band, band.hoursAbove(celsius))),
                Json.member("kelvinHoursAbove", of(band, band.degreeHoursAbove(celsius))));
    }

    private static String of(EggBand band, Span span) {
        return Json.object(
                Json.member("low", EvennessJson.number(span.low())),
                Json.member(
                        "likely",
                        band.isLikelyKnown() ? EvennessJson.number(span.likely()) : NOTHING),
                Json.member("high", EvennessJson.number(span.high())));
    }

    private static String of(Recovery recovery) {
        return Json.object(
                Json.member("lastAirCelsius", EvennessJson.number(recovery.lastCelsius())),
                Json.member("firstAirCelsius", EvennessJson.number(recovery.firstCelsius())),
                Json.member(
                        "settledAfterSeconds",
                        recovery.settledAfter()
                                .map(Duration::toSeconds)
                                .map(Object::toString)
                                .orElse(NOTHING)),
                Json.member("overshootKelvin", EvennessJson.number(recovery.overshootKelvin())));
    }

    private static String of(LoggedChange change) {
        return Json.object(
                Json.member("at", Json.text(change.at().toString())),
                Json.member("code", Json.text(change.code())),
                Json.member("from", Json.text(change.from())),
                Json.member("to", Json.text(change.to())),
                Json.member("who", Json.text(change.who())),
                Json.member("subject", Json.text(change.subject())),
                Json.member("why", Json.text(change.why())));
    }
}
