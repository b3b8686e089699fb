package io.evenwarm.monitor.app;

import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.outage.EggBand;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.report.OutageAccount;
import io.evenwarm.monitor.report.OutagePicture;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.view.WindowOutages;
import java.io.UncheckedIOException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The store's outages as the window shows them. */
final class DeskOutages implements WindowOutages {

    private final OutageHistory history;

    /** What was listed last: a question lists them and then looks at one of them. */
    private volatile List<Outage> listed = List.of();

    DeskOutages(OutageHistory history) {
        this.history = history;
    }

    private List<Outage> all(CabinetKey key) {
        try {
            return new OutageEvents(history.store()).ofAll(key);
        } catch (StoreException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Override
    public List<Listed> list(CabinetKey key, Wording wording) {
        List<Listed> list = new ArrayList<>();
        listed = List.copyOf(all(key));
        for (Outage outage : listed) {
            // The newest matters most.
            list.add(
                    0,
                    new Listed(
                            outage.id(),
                            wording.time(outage.begin().likely())
                                    + ", "
                                    + OutageText.length(
                                            Duration.between(
                                                    outage.begin().likely(),
                                                    outage.end().likely())),
                            OutageText.dark(outage)));
        }
        return list;
    }

    @Override
    public Told review(CabinetKey key, String id, Wording wording, int width) {
        Outage outage =
                found(listed, key, id)
                        .or(() -> found(all(key), key, id))
                        .orElseThrow(
                                () -> new IllegalArgumentException("there is no outage " + id));
        try {
            return told(history.review(outage), wording, width);
        } catch (StoreException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static Optional<Outage> found(List<Outage> among, CabinetKey key, String id) {
        return among.stream()
                .filter(each -> each.key().equals(key) && each.id().equals(id))
                .findFirst();
    }

    private static Told told(OutageAccount account, Wording wording, int width) {
        OutageText text = new OutageText(wording.unit(), wording.zone());
        List<Table> tables = new ArrayList<>();
        tables.add(what(account, text));
        eggs(account, text).ifPresent(tables::add);
        tubs(account, text).ifPresent(tables::add);
        tables.add(alarms(account, text));
        tables.add(notices(account, text));
        return new Told(
                text.answer(account),
                account.review().coldest().filter(EggBand::isLikelyKnown).isPresent(),
                OutageText.notKnown(account),
                OutagePicture.of(account, wording, width),
                tables,
                "Dashed lines and what stands in brackets are "
                        + OutageText.source(account.review().outage())
                        + " by the cabinet's thermal model, with their 95 % band: no probe measured"
                        + " eggs. K h are the area between the eggs and the limit.");
    }

    private static Table what(OutageAccount account, OutageText text) {
        Outage outage = account.review().outage();
        List<List<String>> rows = new ArrayList<>();
        rows.add(List.of("Begin", text.edge(outage.begin())));
        rows.add(List.of("End", text.edge(outage.end())));
        rows.add(List.of("Dark", OutageText.dark(outage)));
        outage.evidence().forEach(words -> rows.add(List.of("Because", words)));
        text.before(account).ifPresent(words -> rows.add(List.of("Before", words)));
        rows.add(List.of("Recovery", text.recovery(account)));
        account.humidity()
                .forEach(each -> rows.add(List.of("Humidity", text.humidity(account, each))));
        return new Table("What happened", List.of(), rows);
    }

    private static Optional<Table> eggs(OutageAccount account, OutageText text) {
        if (account.review().coldest().isEmpty() || account.review().warmest().isEmpty()) {
            return Optional.empty();
        }
        EggBand coldest = account.review().coldest().get();
        EggBand warmest = account.review().warmest().get();
        List<List<String>> rows = new ArrayList<>();
        add(
                rows,
                "Coldest eggs, least",
                text.celsius(coldest, coldest.leastCelsius()),
                text.below(account, coldest));
        add(
                rows,
                "Warmest eggs, greatest",
                text.celsius(warmest, warmest.greatestCelsius()),
                text.above(account, warmest));
        return Optional.of(
                new Table(
                        "Eggs, " + OutageText.source(account.review().outage()),
                        List.of("", "Value (95 % band)", "Hours", "Area"),
                        rows));
    }

    /** One shelf's extreme, and below it for how long it was beyond each limit. */
    private static void add(
            List<List<String>> rows,
            String what,
            String extreme,
            List<OutageText.LimitLine> limits) {
        rows.add(List.of(what, extreme, "", ""));
        limits.forEach(
                line -> rows.add(List.of(line.limit(), "", line.hours(), line.degreeHours())));
    }

    private static Optional<Table> tubs(OutageAccount account, OutageText text) {
        List<List<String>> rows =
                account.review().tubs().stream()
                        .map(
                                tub ->
                                        List.of(
                                                tub.tub().name(),
                                                tub.tub().shelf()
                                                        + (tub.isShelfKnown()
                                                                ? ""
                                                                : " (no probe there)"),
                                                tub.eggs()
                                                        .map(
                                                                eggs ->
                                                                        text.celsius(
                                                                                eggs,
                                                                                eggs
                                                                                        .leastCelsius()))
                                                        .orElse("not known"),
                                                tub.eggs()
                                                        .map(
                                                                eggs ->
                                                                        text.celsius(
                                                                                eggs,
                                                                                eggs
                                                                                        .greatestCelsius()))
                                                        .orElse("not known")))
                        .toList();
        return rows.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        new Table(
                                "Tubs, " + OutageText.source(account.review().outage()),
                                List.of("Tub", "Shelf", "Least", "Greatest"),
                                rows));
    }

    private static Table alarms(OutageAccount account, OutageText text) {
        return new Table(
                account.changes().isEmpty()
                        ? "Alarms: none changed in that time, up to 6 h after it"
                        : "Alarms",
                List.of(),
                account.changes().stream()
                        .map(change -> List.of(text.time(change.at()), OutageText.alarm(change)))
                        .toList());
    }

    private static Table notices(OutageAccount account, OutageText text) {
        return new Table(
                account.notices().isEmpty()
                        ? "Notices: none was written in that time, up to 6 h after it"
                        : "Notices",
                List.of(),
                account.notices().stream()
                        .map(
                                notice ->
                                        List.of(
                                                text.time(notice.at()),
                                                notice.subject() + ": " + text.way(notice)))
                        .toList());
    }
}
