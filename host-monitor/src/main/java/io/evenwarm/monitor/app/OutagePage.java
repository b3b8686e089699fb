package io.evenwarm.monitor.app;

import io.evenwarm.monitor.alert.LoggedChange;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.notice.NoticeSent;
import io.evenwarm.monitor.outage.EggBand;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.outage.TubExposure;
import io.evenwarm.monitor.report.OutageAccount;
import io.evenwarm.monitor.report.OutagePicture;
import java.util.List;

/** What an outage came to as one HTML file to print or to keep. */
final class OutagePage {

    private final OutageAccount told;
    private final OutageText text;
    private final PageWriter page;

    private OutagePage(OutageAccount told, OutageText text) {
        this.told = told;
        this.text = text;
        Outage outage = told.review().outage();
        page =
                new PageWriter(
                        "What the eggs of "
                                + outage.key().cabinet()
                                + " went through: "
                                + outage.words());
    }

    static String of(OutageAccount told, OutageText text, Wording wording) {
        OutagePage page = new OutagePage(told, text);
        page.write(wording);
        return page.page.end();
    }

    private void write(Wording wording) {
        Outage outage = told.review().outage();
        page.paragraph(
                "small",
                "Event "
                        + outage.id()
                        + " of agent "
                        + outage.key().agent()
                        + ", times in "
                        + wording.zone().getId());
        boolean isKnown = told.review().coldest().filter(EggBand::isLikelyKnown).isPresent();
        page.paragraph(isKnown ? "verdict" : "verdict open", text.answer(told));
        OutageText.notKnown(told)
                .forEach(words -> page.paragraph("reason", "Not known: " + words + "."));
        page.pictures(OutagePicture.of(told, wording, OutagePicture.PAGE_WIDTH));
        page.beginDefinitions();
        page.definition("Begin", text.edge(outage.begin()));
        page.definition("End", text.edge(outage.end()));
        page.definition("Dark", OutageText.dark(outage));
        outage.evidence().forEach(words -> page.definition("Because", words));
        text.before(told).ifPresent(words -> page.definition("Before", words));
        page.definition("Recovery", text.recovery(told));
        told.humidity().forEach(each -> page.definition("Humidity", text.humidity(told, each)));
        page.endDefinitions();
        figures();
        tubs(told.review().tubs());
        alarms(told.changes());
        notices(told.notices());
        page.paragraph(
                "small",
                "Dashed lines and what stands in brackets beside them are "
                        + OutageText.source(outage)
                        + " by the cabinet's thermal model, with their 95 % band: no probe"
                        + " measured eggs. K h are the area between the eggs and the limit. How it"
                        + " is done, and how well, stands in docs/thermal.md.");
    }

    private void figures() {
        if (told.review().coldest().isEmpty() || told.review().warmest().isEmpty()) {
            return;
        }
        EggBand coldest = told.review().coldest().get();
        EggBand warmest = told.review().warmest().get();
        page.element("h2", "Eggs, " + OutageText.source(told.review().outage()));
        page.beginTable("", "Value (95 % band)", "Hours", "Area");
        row("Coldest eggs, least", text.celsius(coldest, coldest.leastCelsius()), "", "");
        text.below(told, coldest)
                .forEach(line -> row(line.limit(), "", line.hours(), line.degreeHours()));
        row("Warmest eggs, greatest", text.celsius(warmest, warmest.greatestCelsius()), "", "");
        text.above(told, warmest)
                .forEach(line -> row(line.limit(), "", line.hours(), line.degreeHours()));
        page.endTable();
    }

    private void row(String... cells) {
        page.beginRow();
        List.of(cells).forEach(page::cell);
        page.endRow();
    }

    private void tubs(List<TubExposure> tubs) {
        if (tubs.isEmpty()) {
            return;
        }
        page.element("h2", "Tubs, " + OutageText.source(told.review().outage()));
        page.beginTable("Tub", "<Shelf", "Least", "Greatest", "<Below limits");
        for (TubExposure tub : tubs) {
            page.beginRow();
            page.cell(tub.tub().name() + ", " + tub.tub().contents());
            page.words(tub.tub().shelf() + (tub.isShelfKnown() ? "" : " (no probe there)"));
            page.cell(
                    tub.eggs()
                            .map(eggs -> text.celsius(eggs, eggs.leastCelsius()))
                            .orElse("not known"));
            page.cell(
                    tub.eggs()
                            .map(eggs -> text.celsius(eggs, eggs.greatestCelsius()))
                            .orElse("not known"));
            page.words(
                    tub.eggs()
                            .map(
                                    eggs ->
                                            String.join(
                                                    "; ",
                                                    text.below(told, eggs).stream()
                                                            .map(
                                                                    line ->
                                                                            line.limit()
                                                                                    + " "
                                                                                    + line.hours())
                                                            .toList()))
                            .orElse(""));
            page.endRow();
        }
        page.endTable();
    }

    private void alarms(List<LoggedChange> changes) {
        page.element("h2", "Alarms");
        if (changes.isEmpty()) {
            page.paragraph("reason", "None changed in that time, up to 6 h after it.");
            return;
        }
        page.beginTable("When", "<About", "<Alarm", "<From", "<To", "<By");
        for (LoggedChange change : changes) {
            page.beginRow();
            page.cell(text.time(change.at()));
            page.words(change.subject());
            page.words(change.code());
            page.words(change.from());
            page.words(change.to());
            page.words(change.who());
            page.endRow();
        }
        page.endTable();
    }

    private void notices(List<NoticeSent> notices) {
        page.element("h2", "Notices");
        if (notices.isEmpty()) {
            page.paragraph("reason", "None was written in that time, up to 6 h after it.");
            return;
        }
        page.beginTable("Written", "<Notice", "<What came of it");
        for (NoticeSent notice : notices) {
            page.beginRow();
            page.cell(text.time(notice.at()));
            page.words(notice.subject());
            page.words(text.way(notice));
            page.endRow();
        }
        page.endTable();
    }
}
