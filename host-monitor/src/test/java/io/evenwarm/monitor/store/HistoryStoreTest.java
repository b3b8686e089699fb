package io.evenwarm.monitor.store;

import static io.evenwarm.monitor.Journal.at;
import static io.evenwarm.monitor.Journal.bad;
import static io.evenwarm.monitor.Journal.good;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Event.Kind;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.JournalPosition;
import io.evenwarm.monitor.history.LogEntry;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.quantity.RelativeHumidity;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What goes in comes out: once, in order, with gaps as gaps and spikes as spikes. */
class HistoryStoreTest {

    private static final AgentName AGENT = new AgentName("egg room");
    private static final CabinetKey NORTH = new CabinetKey(AGENT, Journal.NORTH);
    private static final TimeSpan ALL = new TimeSpan(Instant.EPOCH, at(1e9));

    private final Path folder;
    private HistoryStore store;
    private final Journal journal = new Journal();

    HistoryStoreTest(@TempDir Path folder) throws StoreException {
        this.folder = folder;
        store = open(folder);
    }

    HistoryStore open(Path folder) throws StoreException {
        return HistoryStore.open(folder);
    }

    @AfterEach
    void close() {
        store.close();
    }

    private void append() throws StoreException {
        store.append(AGENT, "j1", journal.take());
    }

    private Curve top() {
        return store.curves(NORTH, ALL).probes().get(0).curve();
    }

    /** A curve as text: {@code second=value} each, "-" for a gap. */
    private static String text(Curve curve) {
        List<String> points = new ArrayList<>();
        for (int i = 0; i < curve.size(); i++) {
            double second = (curve.epochMillis(i) - Journal.EPOCH.toEpochMilli()) / 1000.0;
            double value = curve.value(i);
            points.add(
                    String.format(
                            Locale.ROOT,
                            second == Math.rint(second) ? "%.0f=%s" : "%.3f=%s",
                            second,
                            Double.isNaN(value) ? "-" : Double.toString(value)));
        }
        return String.join(" ", points);
    }

    @Test
    void recordsComeBackAsCurvesInOrderOfTime() throws StoreException {
        journal.readings(
                5,
                Journal.NORTH,
                0.25,
                good("top", ProbePlace.TOP, 31.5),
                good("low", ProbePlace.BOTTOM, 31.0625));
        journal.readings(
                10,
                Journal.NORTH,
                1,
                good("top", ProbePlace.TOP, 31.5625),
                good("low", ProbePlace.BOTTOM, 31.125));
        append();
        CabinetCurves curves = store.curves(NORTH, ALL);
        assertEquals(2, curves.probes().size());
        ProbeCurve low = curves.probes().get(1);
        assertEquals(new ProbeName("low"), low.probe());
        assertEquals(ProbePlace.BOTTOM, low.place());
        assertEquals(ProbeCurve.Unit.CELSIUS, low.unit());
        assertEquals("5=31.0625 10=31.125", text(low.curve()));
        assertEquals("5=31.5 10=31.5", text(curves.setPointCelsius()));
        assertEquals("5=0.25 10=1.0", text(curves.heaterOnFraction()));
        assertEquals(Optional.of(Journal.LIMITS), curves.limits());
        assertEquals(List.of(NORTH), store.cabinets());
        assertEquals(Optional.of(new TimeSpan(at(5), at(10.001))), store.extent(NORTH));
    }

    @Test
    void aSpanIncludesItsBeginAndNotItsEnd() throws StoreException {
        journal.top(5, 31).top(10, 32).top(15, 33).top(20, 34);
        append();
        CabinetCurves curves = store.curves(NORTH, new TimeSpan(at(10), at(20)));
        assertEquals("10=32.0 15=33.0", text(curves.probes().get(0).curve()));
    }

    @Test
    void whatIsNotThereIsEmptyAndNotAnError() {
        CabinetCurves curves = store.curves(NORTH, ALL);
        assertEquals(List.of(), curves.probes());
        assertEquals(0, curves.setPointCelsius().size());
        assertEquals(Optional.empty(), curves.limits());
        assertEquals(Optional.empty(), store.extent(NORTH));
        assertEquals(List.of(), store.cabinets());
        assertEquals(List.of(), store.log(Optional.of(NORTH), ALL, 10));
    }

    @Test
    void recordsThatComeAgainAreStoredOnce() throws StoreException {
        Journal all = new Journal();
        for (int i = 1; i <= 40; i++) {
            all.top(5 * i, 31 + i / 100.0);
        }
        List<JournalRecord> records = all.take();
        long seed = 20300301;
        Random random = new Random(seed);
        int sent = 0;
        while (sent < records.size()) {
            // A break of the link makes the agent send again from some earlier record.
            int from = random.nextInt(sent + 1);
            int to = Math.min(records.size(), from + 1 + random.nextInt(12));
            store.append(AGENT, "j1", records.subList(from, to));
            sent = Math.max(sent, to);
            assertEquals(sent, store.lastSequence(AGENT, "j1"), "seed " + seed);
        }
        Curve curve = top();
        assertEquals(40, curve.size());
        for (int i = 0; i < 40; i++) {
            assertEquals(at(5 * (i + 1)).toEpochMilli(), curve.epochMillis(i));
            assertEquals(31 + (i + 1) / 100.0, curve.value(i));
        }
    }

    @Test
    void journalsAreCountedApart() throws StoreException {
        journal.top(5, 31).top(10, 31);
        append();
        assertEquals(0, store.lastSequence(AGENT, "j2"));
        assertEquals(0, store.lastSequence(new AgentName("other"), "j1"));
        journal.afterSequence(0).top(15, 32);
        store.append(AGENT, "j2", journal.take());
        assertEquals(2, store.lastSequence(AGENT, "j1"));
        assertEquals(Optional.of(new JournalPosition("j2", 1)), store.newestJournal(AGENT));
        assertEquals("5=31.0 10=31.0 15=32.0", text(top()));
        assertEquals(Optional.empty(), store.newestJournal(new AgentName("other")));
    }

    @Test
    void numbersThatDoNotRiseAreRefusedWhole() throws StoreException {
        List<JournalRecord> first = new Journal().top(5, 31).take();
        List<JournalRecord> twice = List.of(first.get(0), first.get(0));
        assertThrows(IllegalArgumentException.class, () -> store.append(AGENT, "j1", twice));
        assertEquals(0, store.lastSequence(AGENT, "j1"));
    }

    @Test
    void aBadReadingIsAGapAndASpikeIsNot() throws StoreException {
        journal.top(5, 31.5).top(10, 85).top(15, 31.5);
        journal.readings(20, bad("top", ProbePlace.TOP, Reading.Doubt.CHECKSUM));
        journal.top(25, 31.5);
        append();
        assertEquals("5=31.5 10=85.0 15=31.5 20=- 25=31.5", text(top()));
    }

    @Test
    void anUncertainReadingKeepsItsValue() throws StoreException {
        journal.readings(
                5,
                new ProbeReading(
                        new ProbeName("top"),
                        ProbePlace.TOP,
                        new Reading.Uncertain(Journal.celsius(40), Reading.Doubt.TOO_FAST, 0)));
        append();
        assertEquals("5=40.0", text(top()));
    }

    @Test
    void aHoleOfMoreThanThreeIntervalsIsAGap() throws StoreException {
        for (int i = 1; i <= 10; i++) {
            journal.top(5 * i, 31);
        }
        // Three intervals are two lost records; 16 s are more than three intervals.
        journal.top(65, 31).top(70, 31).top(75, 31).top(91, 31).top(96, 31);
        append();
        assertEquals(
                "5=31.0 10=31.0 15=31.0 20=31.0 25=31.0 30=31.0 35=31.0 40=31.0 45=31.0 50=31.0"
                        + " 65=31.0 70=31.0 75=31.0 75.001=- 91=31.0 96=31.0",
                text(top()));
        assertTrue(
                text(store.curves(NORTH, ALL).heaterOnFraction()).contains("75=0.25 75.001=- 91="));
    }

    @Test
    void anIntervalThatTheKeeperChangedMakesNoGap() throws StoreException {
        double second = 0;
        for (int i = 0; i < 50; i++) {
            journal.top(second += 5, 31);
        }
        for (int i = 0; i < 50; i++) {
            journal.top(second += 60, 31);
        }
        for (int i = 0; i < 50; i++) {
            journal.top(second += 1, 31);
        }
        append();
        assertEquals(150, top().size());
    }

    @Test
    void aHygrometersUnitIsKnownOnceItHasRead() throws StoreException {
        journal.readings(5, bad("damp", ProbePlace.MIDDLE, Reading.Doubt.NOT_YET_READ));
        journal.readings(
                10,
                new ProbeReading(
                        new ProbeName("damp"),
                        ProbePlace.MIDDLE,
                        new Reading.Good(RelativeHumidity.ofPercent(82), 0)));
        journal.readings(15, bad("damp", ProbePlace.MIDDLE, Reading.Doubt.STALE));
        append();
        List<ProbeCurve> probes = store.curves(NORTH, ALL).probes();
        assertEquals(1, probes.size());
        assertEquals(ProbeCurve.Unit.PERCENT_RELATIVE_HUMIDITY, probes.get(0).unit());
        assertEquals("5=- 10=82.0 15=-", text(probes.get(0).curve()));
    }

    @Test
    void aProbeThatWasMovedHasACurveForEachPlace() throws StoreException {
        journal.readings(5, good("b", ProbePlace.TOP, 31), good("a", ProbePlace.TUB, 30));
        journal.readings(10, good("b", ProbePlace.of("door side"), 29));
        append();
        List<ProbeCurve> probes = store.curves(NORTH, ALL).probes();
        assertEquals(
                List.of("top 5=31.0", "tub 5=30.0", "door side 10=29.0"),
                probes.stream().map(p -> p.place().label() + " " + text(p.curve())).toList());
    }

    @Test
    void allIsThereAfterAReopen() throws StoreException {
        journal.top(5, 31).raised(7, FindingCode.TOO_COLD, "air 30.1 °C");
        append();
        store.close();
        store = open(folder);
        assertEquals(2, store.lastSequence(AGENT, "j1"));
        journal.top(10, 32).cleared(12, FindingCode.TOO_COLD, 7, "warm again");
        append();
        assertEquals("5=31.0 10=32.0", text(top()));
        assertEquals(
                List.of("north too-cold 7-12 air 30.1 °C"), logLines(Optional.of(NORTH), ALL, 10));
    }

    @Test
    void whatAnEarlierJournalTellsEndsNothingInTheOneInUse() throws StoreException {
        store.append(AGENT, "earlier", List.of());
        journal.boot(9, 900).top(905, 31).raised(910, FindingCode.TOO_COLD, "air 30.1 °C");
        append();
        Journal past =
                new Journal()
                        .boot(1, 0)
                        .agentEvent(0, Kind.AGENT_STARTED, "agent started")
                        .top(5, 31)
                        .raised(7, FindingCode.TOO_COLD, "air 29.1 °C")
                        .top(20, 29)
                        .boot(2, 100)
                        .agentEvent(100, Kind.AGENT_STARTED, "agent started")
                        .raised(107, FindingCode.TOO_WARM, "air 33.1 °C")
                        .top(120, 33);
        store.appendEarlier(AGENT, "earlier", past.take());
        store.endEarlier(AGENT, "earlier");
        journal.top(1000, 31);
        append();
        assertEquals("5=31.0 20=29.0 120=33.0 905=31.0 1000=31.0", pointsOnly(text(top())));
        assertEquals(
                List.of(
                        "north too-cold 910- air 30.1 °C",
                        "north too-warm 107-120 air 33.1 °C (until the agent stopped)",
                        "* * 100-100 agent started",
                        "north too-cold 7-20 air 29.1 °C (until the agent stopped)",
                        "* * 0-0 agent started"),
                logLines(Optional.of(NORTH), ALL, 10));
        assertEquals("j1", store.newestJournal(AGENT).orElseThrow().journal());
        assertEquals(7, store.lastSequence(AGENT, "earlier"));
    }

    @Test
    void plannedWorkIsToldByCabinetAndSpan() throws StoreException {
        journal.top(5, 31).workBegun(10).workBegun(200).workBegun(300);
        append();
        assertEquals(
                List.of(Journal.at(10), Journal.at(200)),
                store.plannedWork(NORTH, new TimeSpan(Journal.at(10), Journal.at(300))));
        assertEquals(
                List.of(), store.plannedWork(new CabinetKey(AGENT, new CabinetName("south")), ALL));
    }

    private static String pointsOnly(String curve) {
        return curve.replaceAll(" \\S+=-", "");
    }

    private List<String> logLines(Optional<CabinetKey> key, TimeSpan span, int limit) {
        return store.log(key, span, limit).stream().map(HistoryStoreTest::line).toList();
    }

    private static String line(LogEntry entry) {
        return entry.cabinet().map(CabinetName::value).orElse("*")
                + " "
                + entry.code().map(FindingCode::value).orElse("*")
                + " "
                + second(entry.begin())
                + "-"
                + entry.end().map(HistoryStoreTest::second).orElse("")
                + " "
                + entry.words();
    }

    private static String second(Instant time) {
        return Long.toString((time.toEpochMilli() - Journal.EPOCH.toEpochMilli()) / 1000);
    }

    @Test
    void raisedAndClearedMakeOneLineOfTheLog() throws StoreException {
        journal.agentEvent(1, Kind.AGENT_STARTED, "agent started");
        journal.raised(10, FindingCode.TOO_WARM, "air 32.8 °C");
        journal.raised(20, FindingCode.PROBES_DISAGREE, "top and bottom differ by 1.9 K");
        journal.raised(25, FindingCode.TOO_WARM, "air 33.0 °C");
        journal.cleared(30, FindingCode.TOO_WARM, 10, "air 32.4 °C");
        append();
        assertEquals(
                List.of(
                        "north probes-disagree 20- top and bottom differ by 1.9 K",
                        "north too-warm 10-30 air 32.8 °C",
                        "* * 1-1 agent started"),
                logLines(Optional.of(NORTH), ALL, 10));
        assertEquals(
                List.of("north probes-disagree 20- top and bottom differ by 1.9 K"),
                logLines(Optional.of(NORTH), ALL, 1));
        assertEquals(
                List.of("north too-warm 10-30 air 32.8 °C"),
                logLines(Optional.empty(), new TimeSpan(at(12), at(20)), 10));
    }

    @Test
    void aFindingBeginsWhenItBeganToHold() throws StoreException {
        journal.finding(
                700, Kind.FINDING_RAISED, FindingCode.PROBES_DISAGREE, 100, "for ten minutes");
        append();
        assertEquals(
                List.of("north probes-disagree 100- for ten minutes"),
                logLines(Optional.empty(), ALL, 10));
    }

    @Test
    void aClearingWithoutItsRaisingStillSaysSinceWhen() throws StoreException {
        journal.cleared(50, FindingCode.TOO_COLD, 20, "warm again");
        append();
        assertEquals(
                List.of("north too-cold 20-50 warm again"), logLines(Optional.empty(), ALL, 10));
    }

    @Test
    void whatWasOpenWhenTheAgentStoppedEndsThere() throws StoreException {
        journal.raised(10, FindingCode.TOO_COLD, "air 30.1 °C").top(20, 30);
        journal.boot(2, 100).agentEvent(100, Kind.AGENT_STARTED, "agent started");
        journal.raised(101, FindingCode.TOO_COLD, "air 27.0 °C");
        append();
        assertEquals(
                List.of(
                        "north too-cold 101- air 27.0 °C",
                        "* * 100-100 agent started",
                        "north too-cold 10-20 air 30.1 °C (until the agent stopped)"),
                logLines(Optional.empty(), ALL, 10));
    }

    @Test
    void theLogOfOneCabinetLeavesOutTheOthers() throws StoreException {
        journal.raised(10, FindingCode.TOO_COLD, "cold");
        append();
        CabinetKey other = new CabinetKey(AGENT, new CabinetName("south"));
        assertEquals(List.of(), logLines(Optional.of(other), ALL, 10));
        CabinetKey elsewhere = new CabinetKey(new AgentName("shed"), Journal.NORTH);
        assertEquals(List.of(), logLines(Optional.of(elsewhere), ALL, 10));
    }

    @Test
    void timesBeforeTheClockWasSetAreCorrectedOnceItIs() throws StoreException {
        // The power was away for two hours: the agent's clock starts that much behind.
        journal.clockWrongBy(-7200).raised(3, FindingCode.TOO_COLD, "cold after the cut");
        journal.top(5, 28).top(10, 29).cleared(12, FindingCode.TOO_COLD, 3, "warm");
        append();
        assertEquals("-7195=28.0 -7190=29.0", text(top()));
        journal.clockSet().top(15, 30);
        append();
        assertEquals("5=28.0 10=29.0 15=30.0", text(top()));
        assertEquals(Optional.of(new TimeSpan(at(5), at(15.001))), store.extent(NORTH));
        assertEquals(
                List.of(
                        "* * 3-12 clock set: what the agent recorded in this time is dated 2:00:00 h"
                                + " later than its clock showed then",
                        "north too-cold 3-12 cold after the cut"),
                logLines(Optional.empty(), ALL, 10));
        assertEquals("5=0.25 10=0.25 15=0.25", text(store.curves(NORTH, ALL).heaterOnFraction()));
        // Nobody vouches for the clock any more, but the run is the same.
        journal.clockWrongBy(-3600).top(20, 31);
        append();
        assertEquals("5=28.0 10=29.0 15=30.0 20=31.0", text(top()));
    }

    @Test
    void aCorrectionLeavesEarlierRunsAlone() throws StoreException {
        journal.top(5, 28);
        journal.boot(2, 50).clockWrongBy(-40).top(60, 29).clockSet().top(65, 30);
        append();
        store.close();
        store = open(folder);
        assertEquals("5=28.0 60=29.0 65=30.0", text(top()));
    }

    @Test
    void anAbsurdWallTimeIsStoredAndDoesNotStopTheJournal() throws StoreException {
        journal.clockWrongBy(-1e12).top(5, 31);
        append();
        journal.clockSet().top(10, 31);
        append();
        assertEquals("5=31.0 10=31.0", text(top()));
    }
}
