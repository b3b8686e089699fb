package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.FindingCode;
import io.evenwarm.message.JournalRecord.Event.Kind;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.app.LivedHistory.Happens;
import io.evenwarm.monitor.app.LivedHistory.Probe;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.outage.Unwatched;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.store.StoredRuns;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Failures with readings going on, dark probes and times that nobody watched are events, too. */
final class OutageEventsTest {

    private static final int DAYS = 4 * 1440;

    private final CommandRun command;

    OutageEventsTest(@TempDir Path home) throws IOException {
        command = new CommandRun(home);
        command.settings("C");
    }

    private List<String> events() {
        assertEquals(0, command.run("outages", "north"), command.err());
        return command.out().lines().toList();
    }

    private double figure(String object, String member) {
        Matcher matcher =
                Pattern.compile("\"" + object + "\": \\{[^}]*\"" + member + "\": ([-0-9.e+]+)")
                        .matcher(command.out());
        assertTrue(matcher.find(), object + " in " + command.out());
        return Double.parseDouble(matcher.group(1));
    }

    @Test
    void aDeadHeaterIsAnEventWhoseEggsAreEstimatedFromWhatWasRead() throws IOException {
        LivedHistory lived = new LivedHistory(Probe.BOTTOM, Probe.ROOM);
        lived.minutes(DAYS, Happens.LIVES).minutes(12, Happens.HEATER_DEAD);
        double raised = lived.second();
        lived.journal().raised(raised, FindingCode.HEATER_DEAD, "heater dead: no heat comes");
        lived.minutes(20, Happens.HEATER_DEAD);
        lived.journal().raised(lived.second(), FindingCode.TOO_COLD, "too cold");
        double cold = lived.second();
        lived.minutes(208, Happens.HEATER_DEAD);
        lived.journal()
                .finding(
                        lived.second(),
                        Kind.FINDING_CLEARED,
                        FindingCode.HEATER_DEAD,
                        raised,
                        "heater dead: no heat comes");
        lived.minutes(300, Happens.LIVES);
        lived.journal()
                .finding(lived.second(), Kind.FINDING_CLEARED, FindingCode.TOO_COLD, cold, "cold");
        lived.minutes(100, Happens.LIVES).store(command.data());
        List<String> events = events();
        assertEquals(1, events.size(), events.toString());
        assertTrue(
                events.get(0).startsWith("north@20300305T0000Z-failure-heater-dead-too-cold "),
                events.get(0));
        assertTrue(events.get(0).endsWith(": heater dead, too cold"), events.get(0));
        assertEquals(0, command.run("outage", "north", "--json"), command.err());
        String out = command.out();
        assertTrue(out.contains("\"kind\": \"failure\"") && out.contains("\"heat\": \"read\""));
        assertTrue(out.contains("\"isReconstructed\": false, \"isEstimated\": true"), out);
        assertEquals(lived.coldest(), figure("leastCelsius", "likely"), 1.0);
        assertTrue(figure("leastCelsius", "low") <= lived.coldest(), "the band holds it");
        assertTrue(figure("leastCelsius", "high") >= lived.coldest(), "the band holds it");
        assertEquals(0, command.run("outage", "north"), command.err());
        assertTrue(command.out().contains(", estimated from the air that was read"));
        assertFalse(command.out().contains("econstructed"), command.out());
    }

    @Test
    void onlyColdAirAfterACutIsTheCutsRecovery() throws IOException {
        LivedHistory lived = new LivedHistory(Probe.ROOM);
        lived.minutes(DAYS, Happens.LIVES).minutes(300, Happens.DARK).startsAfterThePowerFailed();
        lived.journal().raised(lived.second() + 60, FindingCode.TOO_COLD, "too cold");
        lived.minutes(400, Happens.LIVES).store(command.data());
        assertEquals(1, events().size(), command.out());
    }

    @Test
    void aProbeAloneWithoutReadingsIsAnEventOfThatProbe() throws IOException {
        LivedHistory lived = new LivedHistory(Probe.BOTTOM, Probe.ROOM);
        lived.minutes(DAYS, Happens.LIVES).minutes(45, Happens.LIVES, Probe.BOTTOM);
        lived.minutes(5, Happens.LIVES).minutes(5, Happens.LIVES, Probe.BOTTOM);
        lived.minutes(400, Happens.LIVES).store(command.data());
        List<String> events = events();
        assertEquals(1, events.size(), events.toString());
        assertTrue(events.get(0).startsWith("north@20300305T0000Z-probe-bottom "), events.get(0));
        assertTrue(events.get(0).endsWith("45 min: one probe dark: bottom"), events.get(0));
        assertEquals(0, command.run("outage", "north@20300305T0000Z-probe-bottom"), command.err());
        assertTrue(command.out().contains("gave no value while others did"), command.out());
    }

    @Test
    void thatTheMonitorWasOffIsToldFromThatTheNetworkWasAway() throws IOException {
        LivedHistory lived = new LivedHistory(Probe.ROOM);
        lived.minutes(DAYS + 600, Happens.LIVES).store(command.data());
        try (HistoryStore store = HistoryStore.open(command.data())) {
            StoredRuns runs = store.runs();
            long first = runs.begin(Journal.EPOCH);
            runs.alive(first, Journal.at(DAYS * 60.0));
            long second = runs.begin(Journal.at(DAYS * 60.0 + 3600));
            runs.end(second, Journal.at(DAYS * 60.0 + 7200));
            runs.begin(Journal.at(DAYS * 60.0 + 7230));
        }
        List<String> events = events();
        assertEquals(1, events.size(), "a restart of half a minute is none: " + events);
        assertTrue(events.get(0).startsWith("north@20300305T0000Z-unseen-monitor "), events.get(0));
        assertTrue(events.get(0).endsWith("1 h 0 min: monitor dark"), events.get(0));
        assertEquals(0, command.run("outage", "north"), command.err());
        assertTrue(command.out().contains("the monitor did not run from 2030-03-05T00:00:00Z"));
        assertTrue(command.out().contains("what it found then told nobody"), command.out());
    }

    @Test
    void aMonitorThatWasDarkInACutIsSaidBesideMainsAndAgent() throws IOException {
        new LivedHistory(Probe.ROOM).cut(4, 300).store(command.data());
        try (HistoryStore store = HistoryStore.open(command.data())) {
            StoredRuns runs = store.runs();
            long first = runs.begin(Journal.EPOCH);
            runs.alive(first, Journal.at(DAYS * 60.0));
            runs.begin(Journal.at(DAYS * 60.0 + 300 * 60));
        }
        List<String> events = events();
        assertEquals(1, events.size(), events.toString());
        assertTrue(events.get(0).endsWith(": mains and agent and monitor dark"), events.get(0));
    }

    @Test
    void twoStartsInOneGapAreOneEventInWhichItMayHaveBeenHeated() throws IOException {
        LivedHistory lived = new LivedHistory(Probe.ROOM);
        lived.minutes(DAYS, Happens.LIVES).minutes(150, Happens.DARK);
        lived.startsUnread().minutes(150, Happens.DARK).startsAfterThePowerFailed();
        lived.minutes(400, Happens.LIVES).store(command.data());
        assertEquals(1, events().size(), command.out());
        assertEquals(1, command.run("outage", "north"), command.err());
        assertTrue(command.out().contains("the agent started more than once"), command.out());
        assertTrue(command.out().contains("as without heat, to"), command.out());
    }

    @Test
    void aSecondCutDuringTheRecoveryIsAnEventOfItsOwnAndBothHoldTheTruth() throws IOException {
        LivedHistory lived = new LivedHistory(Probe.ROOM);
        lived.minutes(DAYS, Happens.LIVES).minutes(240, Happens.DARK).startsAfterThePowerFailed();
        lived.minutes(60, Happens.LIVES);
        lived.minutes(180, Happens.DARK).startsAfterThePowerFailed();
        lived.minutes(400, Happens.LIVES).store(command.data());
        List<String> events = events();
        assertEquals(2, events.size(), events.toString());
        assertEquals(0, command.run("outage", "north", "--json"), command.err());
        assertTrue(figure("leastCelsius", "low") <= lived.coldest(), command.out());
        assertTrue(figure("leastCelsius", "high") >= lived.coldest(), command.out());
        assertEquals(0, command.run("outage", "north@2030-03-05T01:00", "--json"), command.err());
        assertTrue(command.out().contains("\"settledAfterSeconds\": null"), "it was not left to");
    }

    @Test
    void anAlarmThatStandsOverTimesWithoutAMonitorTellsOnlyOfTheTimesWithOne() {
        List<Unwatched> off =
                List.of(
                        Unwatched.of(Outage.Dark.MONITOR, at(0), at(0), at(9)),
                        Unwatched.of(Outage.Dark.MONITOR, at(30), at(30), at(40)));
        assertEquals(
                List.of(
                        Unwatched.of(Outage.Dark.NETWORK, at(9), at(10), at(30)),
                        Unwatched.of(Outage.Dark.NETWORK, at(40), at(40), at(60))),
                OutageEvents.silent(at(10), at(60), off));
        assertEquals(
                List.of(Unwatched.of(Outage.Dark.NETWORK, at(8).plusSeconds(28), at(10), at(30))),
                OutageEvents.silent(at(10), at(35), off.subList(1, 2)));
    }

    private static Instant at(int minute) {
        return Journal.at(minute * 60.0);
    }
}
