package io.evenwarm.monitor.app;

import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.outage.TubCourse;
import io.evenwarm.monitor.report.TubAccount;
import io.evenwarm.monitor.report.TubPicture;
import io.evenwarm.monitor.thermal.Span;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** What a tub went through, in words, as JSON and as a page. */
record TubText(OutageText words) {

    private static final String NOTHING = "null";

    /** The whole of it for a terminal. */
    List<String> lines(TubAccount told) {
        List<String> lines = new ArrayList<>();
        lines.add(answer(told));
        told.notKnown().forEach(text -> lines.add("Not known: " + text + "."));
        lines.add("");
        told.stands().forEach(tub -> lines.add("Stood       " + stand(tub, told)));
        lines.add("Hours       " + hours(told.course()));
        told.course().limits().forEach(limit -> lines.add("  " + beyond(limit)));
        lines.add("Hours by the most likely temperature of its eggs; none of it was measured:");
        told.course().bins().forEach(bin -> lines.add("  " + bin(bin)));
        told.events().forEach(event -> lines.add("Event       " + words.line(event)));
        return lines;
    }

    String answer(TubAccount told) {
        TubCourse course = told.course();
        String name = "The eggs of tub " + told.newest().name();
        if (course.leastCelsius().isEmpty() || course.greatestCelsius().isEmpty()) {
            return "What the eggs of tub " + told.newest().name() + " had is not known.";
        }
        return name
                + " had "
                + band(course.leastCelsius().get())
                + " to "
                + band(course.greatestCelsius().get())
                + " since they went in, estimated and, where there were no readings,"
                + " reconstructed, through "
                + told.events().size()
                + (told.events().size() == 1 ? " event." : " events.");
    }

    String stand(Tub tub, TubAccount told) {
        return CabinetChoice.full(tub.key())
                + ", shelf "
                + tub.shelf()
                + ", "
                + tub.contents()
                + ", from "
                + words.time(tub.from())
                + " to "
                + tub.to()
                        .map(words::time)
                        .orElse(words.time(told.until()) + ", the newest reading");
    }

    String hours(TubCourse course) {
        return String.format(
                Locale.ROOT,
                "%.1f estimated from the air that was read, %.1f reconstructed, %.1f not known",
                course.estimatedHours(),
                course.reconstructedHours(),
                course.unknownHours());
    }

    String beyond(TubCourse.Beyond beyond) {
        return name(beyond) + ": " + time(beyond) + ", " + area(beyond);
    }

    String name(TubCourse.Beyond beyond) {
        return (beyond.isBelow() ? "below " : "above ")
                + words.shown(beyond.celsius())
                + " ("
                + beyond.limit().replace('-', ' ')
                + ")";
    }

    String time(TubCourse.Beyond beyond) {
        return String.format(
                Locale.ROOT,
                "%.1f h (%.1f to %.1f), %.1f h of it reconstructed",
                beyond.hours().likely(),
                beyond.hours().low(),
                beyond.hours().high(),
                beyond.reconstructedHours());
    }

    String area(TubCourse.Beyond beyond) {
        return String.format(
                Locale.ROOT,
                "%.1f %s h (%.1f to %.1f), %.1f of it reconstructed",
                kelvin(beyond.kelvinHours().likely()),
                words.degrees(),
                kelvin(beyond.kelvinHours().low()),
                kelvin(beyond.kelvinHours().high()),
                kelvin(beyond.reconstructedKelvinHours()));
    }

    private double kelvin(double kelvinHours) {
        return words.unit().fromKelvin(kelvinHours);
    }

    private String band(Span span) {
        return words.shown(span.likely())
                + " ("
                + words.shown(span.low())
                + " to "
                + words.shown(span.high())
                + ")";
    }

    private String bin(TubCourse.Bin bin) {
        return String.format(
                Locale.ROOT,
                "%s to %s: %8.1f h estimated, %6.1f h reconstructed",
                words.shown(bin.fromCelsius()),
                words.shown(bin.fromCelsius() + TubCourse.BIN_KELVIN),
                bin.estimatedHours(),
                bin.reconstructedHours());
    }

    static String json(TubAccount told) {
        TubCourse course = told.course();
        return Json.object(
                Json.member("tub", Json.text(told.newest().name())),
                Json.member(
                        "stands",
                        Json.array(told.stands().stream().map(TubsCommand::json).toList())),
                Json.member("until", Json.text(told.until().toString())),
                Json.member("isMeasured", "false"),
                number("estimatedHours", course.estimatedHours()),
                number("reconstructedHours", course.reconstructedHours()),
                number("unknownHours", course.unknownHours()),
                Json.member("leastCelsius", span(course.leastCelsius())),
                Json.member("greatestCelsius", span(course.greatestCelsius())),
                Json.member(
                        "limits", Json.array(course.limits().stream().map(TubText::json).toList())),
                number("binKelvin", TubCourse.BIN_KELVIN),
                Json.member("bins", Json.array(course.bins().stream().map(TubText::json).toList())),
                Json.member(
                        "events", Json.array(told.events().stream().map(OutageJson::of).toList())),
                Json.member(
                        "notKnown",
                        Json.array(
                                told.notKnown().stream().map(text -> Json.text(text)).toList())));
    }

    private static String json(TubCourse.Beyond beyond) {
        return Json.object(
                Json.member("limit", Json.text(beyond.limit())),
                number("celsius", beyond.celsius()),
                Json.member("side", Json.text(beyond.isBelow() ? "below" : "above")),
                Json.member("hours", span(Optional.of(beyond.hours()))),
                Json.member("kelvinHours", span(Optional.of(beyond.kelvinHours()))),
                number("reconstructedHours", beyond.reconstructedHours()),
                number("reconstructedKelvinHours", beyond.reconstructedKelvinHours()));
    }

    private static String json(TubCourse.Bin bin) {
        return Json.object(
                number("fromCelsius", bin.fromCelsius()),
                number("estimatedHours", bin.estimatedHours()),
                number("reconstructedHours", bin.reconstructedHours()));
    }

    private static String span(Optional<Span> span) {
        return span.map(
                        its ->
                                Json.object(
                                        number("low", its.low()),
                                        number("likely", its.likely()),
                                        number("high", its.high())))
                .orElse(NOTHING);
    }

    private static String number(String name, double value) {
        return Json.member(name, EvennessJson.number(value));
    }

    /** A page to print. */
    String page(TubAccount told, Wording wording) {
        PageWriter page = new PageWriter("What tub " + told.newest().name() + " went through");
        page.paragraph("small", "Times in " + wording.zone().getId());
        page.paragraph(told.course().bins().isEmpty() ? "verdict open" : "verdict", answer(told));
        told.notKnown().forEach(text -> page.paragraph("reason", "Not known: " + text + "."));
        page.pictures(TubPicture.of(told.course(), wording, TubPicture.PAGE_WIDTH));
        page.beginDefinitions();
        told.stands().forEach(tub -> page.definition("Stood", stand(tub, told)));
        page.definition("Hours", hours(told.course()));
        page.endDefinitions();
        page.element("h2", "Beyond limits");
        page.beginTable("Limit", "Hours (95 % band)", "Area (95 % band)");
        for (TubCourse.Beyond beyond : told.course().limits()) {
            page.beginRow();
            page.cell(name(beyond));
            page.cell(time(beyond));
            page.cell(area(beyond));
            page.endRow();
        }
        page.endTable();
        page.element("h2", "Events");
        if (told.events().isEmpty()) {
            page.paragraph("reason", "None.");
        } else {
            page.beginTable("Event", "<From", "<To", "<What");
            for (Outage event : told.events()) {
                page.beginRow();
                page.cell(event.id());
                page.words(words.time(event.begin().likely()));
                page.words(words.time(event.end().likely()));
                page.words(OutageText.dark(event));
                page.endRow();
            }
            page.endTable();
        }
        page.paragraph(
                "small",
                "No probe measured eggs: while the air was read they are estimated by the"
                        + " cabinet's thermal model, and where it was not, reconstructed; hatched"
                        + " parts of bars, and figures called so, are of these times. How it is"
                        + " done, and how well, stands in docs/thermal.md.");
        return page.end();
    }
}
