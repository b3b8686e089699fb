package io.evenwarm.monitor.app;

import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.evenness.AirFlow;
import io.evenwarm.monitor.evenness.AirWords;
import io.evenwarm.monitor.evenness.CabinetAir;
import io.evenwarm.monitor.evenness.FanDay;
import io.evenwarm.monitor.evenness.Measure;
import io.evenwarm.monitor.evenness.ProbeAstray;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.report.AirFlowPicture;
import java.io.IOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/**
 * What a cabinet's long record says, in every form in which a keeper may want it.
 *
 * @param until end of what was looked at
 */
record AirFlowReport(CabinetKey key, Instant until, CabinetAir air, Wording wording) {

    /** As many days stand in the terminal; all of them in the other forms. */
    private static final int DAYS_SHOWN = 14;

    List<String> lines(AirWords words) {
        List<String> lines = new ArrayList<>();
        lines.add(title());
        lines.add(words.verdict(air.flow()));
        List<FanDay> days = air.flow().days();
        if (!days.isEmpty()) {
            lines.add("");
            lines.add(
                    String.format(
                            Locale.ROOT,
                            "day (UTC)   top-bottom  explained     sum   in %s; called at a sum of"
                                    + " 1",
                            wording.unitOfDifference(Measure.TEMPERATURE)));
            for (FanDay day : days.subList(Math.max(0, days.size() - DAYS_SHOWN), days.size())) {
                lines.add(
                        String.format(
                                Locale.ROOT,
                                "%s  %10.2f %10.2f %7.2f",
                                day(day),
                                wording.unit().fromKelvin(day.partingKelvin()),
                                wording.unit().fromKelvin(day.expectedKelvin()),
                                day.sum()));
            }
        }
        lines.add("");
        lines.add(probes(words));
        return lines;
    }

    private String title() {
        AirFlow flow = air.flow();
        return "Air flow of "
                + CabinetChoice.full(key)
                + (flow.sinceMillis() == Long.MAX_VALUE
                        ? ""
                        : ", learned from "
                                + wording.time(Instant.ofEpochMilli(flow.sinceMillis())))
                + ", up to "
                + wording.time(until);
    }

    private String probes(AirWords words) {
        return air.astray().isEmpty()
                ? "Probes: none has left its place among the others."
                : air.astray().stream()
                        .map(words::evidence)
                        .collect(Collectors.joining("; ", "Probes: ", "."));
    }

    private String day(FanDay day) {
        return wording.day(Instant.ofEpochMilli(day.beginMillis()));
    }

    String csv() throws IOException {
        StringBuilder text = new StringBuilder();
        CSVPrinter printer =
                new CSVPrinter(text, CSVFormat.RFC4180.builder().setRecordSeparator('\n').get());
        printer.printRecord("day", "top-minus-bottom-kelvin", "explained-kelvin", "sum");
        for (FanDay day : air.flow().days()) {
            printer.printRecord(
                    day(day),
                    EvennessJson.number(day.partingKelvin()),
                    EvennessJson.number(day.expectedKelvin()),
                    EvennessJson.number(day.sum()));
        }
        return text.toString();
    }

    String page() {
        AirWords words = new AirWords(wording);
        boolean isSteady =
                air.flow().state().fold(l -> false, steady -> true, weak -> false, s -> false);
        PageWriter page = new PageWriter("Air flow of cabinet " + key.cabinet());
        page.paragraph("small", title() + ", times in " + wording.zone().getId());
        page.paragraph(isSteady ? "verdict" : "verdict fail", words.verdict(air.flow()));
        page.pictures(AirFlowPicture.of(air.flow().days(), wording, AirFlowPicture.PAGE_WIDTH));
        page.paragraph("", probes(words));
        page.paragraph(
                "small",
                "What parts top and bottom is the heat that the fan has to carry, over the"
                        + " air that it moves. A day counts by the median of its quiet"
                        + " stretches; a day or two of cold tubs can't call. How it is"
                        + " judged stands in docs/evenness.md.");
        return page.end();
    }

    String json() {
        AirFlow flow = air.flow();
        return Json.object(
                Json.member("agent", Json.text(key.agent().value())),
                Json.member("cabinet", Json.text(key.cabinet().value())),
                Json.member("to", Json.text(until.toString())),
                Json.member(
                        "learnedFrom",
                        flow.sinceMillis() == Long.MAX_VALUE ? "null" : time(flow.sinceMillis())),
                flow.state()
                        .fold(
                                learning ->
                                        state(
                                                "learning",
                                                Json.member(
                                                        "daysLeft",
                                                        Integer.toString(learning.daysLeft()))),
                                steady -> state("steady", number("flowShare", steady.flowShare())),
                                weak ->
                                        state(
                                                "weakening",
                                                Json.member("since", time(weak.sinceMillis())),
                                                number("flowShare", weak.flowShare()),
                                                number("moreKelvin", weak.moreKelvin())),
                                stopped ->
                                        state(
                                                "stopped",
                                                Json.member("since", time(stopped.sinceMillis())),
                                                number("moreKelvin", stopped.moreKelvin()))),
                Json.member("days", Json.array(flow.days().stream().map(this::json).toList())),
                Json.member(
                        "probesAstray",
                        Json.array(air.astray().stream().map(AirFlowReport::json).toList())));
    }

    private static String state(String state, String... members) {
        String[] all = new String[members.length + 1];
        all[0] = Json.member("state", Json.text(state));
        System.arraycopy(members, 0, all, 1, members.length);
        return Json.member("airFlow", Json.object(all));
    }

    private static String number(String name, double value) {
        return Json.member(name, EvennessJson.number(value));
    }

    private static String time(long epochMillis) {
        return Json.text(Instant.ofEpochMilli(epochMillis).toString());
    }

    private String json(FanDay day) {
        return Json.object(
                Json.member("day", Json.text(day(day))),
                number("topMinusBottomKelvin", day.partingKelvin()),
                number("explainedKelvin", day.expectedKelvin()),
                number("sum", day.sum()));
    }

    private static String json(ProbeAstray astray) {
        return Json.object(
                Json.member("probe", Json.text(astray.probe().value())),
                Json.member("other", Json.text(astray.other().map(ProbeName::value))),
                Json.member("since", time(astray.sinceMillis())),
                number("kelvin", astray.kelvin()),
                number("allowedKelvin", astray.allowedKelvin()));
    }
}
