package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.alarm.AlarmChange;
import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmKey;
import io.evenwarm.monitor.alarm.AlarmState;
import io.evenwarm.monitor.alarm.AlarmWords;
import io.evenwarm.monitor.alarm.Now;
import io.evenwarm.monitor.alarm.Priority;
import io.evenwarm.monitor.alarm.Subject;
import io.evenwarm.monitor.alarm.Trigger;
import io.evenwarm.monitor.app.LivedHistory.Probe;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.notice.DeliveryState;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeKind;
import io.evenwarm.monitor.notice.NoticePriority;
import io.evenwarm.monitor.notice.NoticeStore;
import io.evenwarm.monitor.notice.Notices;
import io.evenwarm.monitor.notice.PendingDelivery;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.store.StoreFile;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A night without power, with tubs, humidity, an alarm and its notice: text, JSON and page. */
final class OutagePageTest {

    private static final CabinetKey NORTH =
            new CabinetKey(LivedHistory.AGENT, new CabinetName("north"));

    /** When the readings end. */
    private static final Instant CUT = Journal.at(4 * 86_400 - 60);

    @TempDir private Path home;
    private CommandRun command;
    private LivedHistory lived;

    @BeforeEach
    void aNightWithoutPower() throws IOException {
        command = new CommandRun(home);
        command.settings("C");
        lived = new LivedHistory(Probe.BOTTOM, Probe.ROOM, Probe.HUMIDITY).cut(4, 300);
        lived.store(command.data());
        StoreFile outside = new StoreFile(command.data());
        outside.addTub(tub("A1", "bottom", Journal.EPOCH));
        outside.addTub(tub("B2", "under the lamp", Journal.EPOCH));
        try (HistoryStore store = HistoryStore.open(command.data())) {
            store.alarms()
                    .add(
                            List.of(
                                    change(
                                            1,
                                            AlarmState.NORMAL,
                                            AlarmState.UNACKNOWLEDGED,
                                            "monitor",
                                            60),
                                    change(
                                            2,
                                            AlarmState.UNACKNOWLEDGED,
                                            AlarmState.ACKNOWLEDGED,
                                            "keeper",
                                            420)));
            Notice notice =
                    new Notice(
                            "alarm-1",
                            1,
                            NoticeKind.FIRST,
                            CUT.plusSeconds(61),
                            NoticePriority.HIGH,
                            "ACT NOW: egg room silent",
                            "Nothing was heard of it.\n",
                            List.of(Notices.bare("egg room")));
            PendingDelivery delivery =
                    new PendingDelivery(notice, "keeper", "mail", 0, notice.at(), notice.at());
            store.notices().add(List.of(new NoticeStore.Addition(notice, List.of(delivery))));
            store.notices()
                    .ended(
                            List.of(
                                    new NoticeStore.Ending(
                                            delivery.key(),
                                            DeliveryState.DELIVERED,
                                            CUT.plusSeconds(64),
                                            "taken")));
        }
    }

    private static Tub tub(String name, String shelf, Instant from) {
        return new Tub(name, NORTH, shelf, 1500, "12 invented eggs", from, Optional.empty());
    }

    private static AlarmChange change(
            long number, AlarmState from, AlarmState to, String who, long seconds) {
        return new AlarmChange(
                number,
                AlarmKey.of(Subject.of(LivedHistory.AGENT), AlarmCodes.AGENT_SILENT),
                Optional.empty(),
                from,
                to,
                Trigger.OCCURRED,
                new Now(CUT.plusSeconds(seconds), 0),
                who,
                "why",
                Priority.HIGH,
                Optional.of(Duration.ofMinutes(45)),
                0,
                CUT,
                new AlarmWords("nothing was heard", "", "Look at the agent."));
    }

    @Test
    void thePageStandsAloneAndMarksWhatIsReconstructed() throws IOException {
        Path page = home.resolve("page.html");
        assertEquals(0, command.run("outage", "north", "--page", page.toString()), command.err());
        String html = Files.readString(page);
        if (System.getProperty("outage.pages") != null) {
            Files.copy(page, Path.of(System.getProperty("outage.pages"), "outage.html"));
        }
        assertFalse(html.contains("http"), "nothing is fetched from elsewhere");
        assertFalse(html.contains("<script"));
        assertTrue(html.contains("stroke-dasharray"), "the eggs' lines are dashed");
        assertTrue(html.contains(">eggs: reconstructed</text>"), "and say what they are");
        assertTrue(html.contains(">no readings</text>"));
        assertTrue(html.contains(">not known</text>"), "humidity in the gap");
        assertTrue(html.contains("agent-silent") && html.contains("ACT NOW: egg room silent"));
        assertTrue(html.contains("to keeper by mail, delivered"));
        assertEquals(2, command.run("outage", "north", "--page", page.toString()));
        assertTrue(command.err().contains("must be a file that is not there yet"));
    }

    @Test
    void theTextHasEachTubTheHumidityAndWhoWasToldWhen() throws IOException {
        assertEquals(0, command.run("outage", "north"), command.err());
        String out = command.out();
        assertTrue(
                out.contains("Tub         A1, shelf bottom, 12 invented eggs: reconstructed from"));
        assertTrue(out.contains("no probe has that shelf as its place"), out);
        assertTrue(out.contains("Humidity    damp, measured: 80 %RH before, not known in between"));
        assertTrue(out.contains("agent-silent: unacknowledged to acknowledged, by keeper"), out);
        assertTrue(
                out.contains(
                        "Notice      2030-03-05 00:00:01 +00:00  ACT NOW: egg room silent: to keeper"
                                + " by mail, delivered 2030-03-05 00:00:04 +00:00"),
                out);
    }

    @Test
    void aTubOnAColderShelfWasColderAndOneOfAnUnknownShelfBetweenColdestAndWarmest()
            throws IOException {
        assertEquals(0, command.run("outage", "north", "--json"), command.err());
        String out = command.out();
        String tubs = out.substring(out.indexOf("\"tubs\""));
        double known = least(tubs, "\"A1\"", "likely");
        double knownLow = least(tubs, "\"A1\"", "low");
        double unknownLow = least(tubs, "\"B2\"", "low");
        double unknownHigh = least(tubs, "\"B2\"", "high");
        assertEquals(lived.coldest(), known, 0.8, "the cabinet's eggs are those of one place here");
        assertTrue(unknownLow <= knownLow + 1e-9, "not warmer than the coldest shelf");
        assertTrue(unknownHigh >= known, out.substring(0, 300));
        assertTrue(tubs.contains("\"isShelfKnown\": false"));
        assertTrue(out.contains("\"state\": \"delivered\""));
    }

    private static double least(String tubs, String name, String end) {
        String there = tubs.substring(tubs.indexOf(name));
        there = there.substring(there.indexOf("\"leastCelsius\""));
        Matcher matcher = Pattern.compile("\"" + end + "\": ([-0-9.]+)").matcher(there);
        assertTrue(matcher.find(), there);
        return Double.parseDouble(matcher.group(1));
    }

    @Test
    void aTubThatCameAfterItHadNoneOfIt() throws IOException {
        new StoreFile(command.data()).addTub(tub("C3", "top", Journal.at(4 * 86_400 + 20_000)));
        assertEquals(0, command.run("outage", "north"), command.err());
        assertFalse(command.out().contains("C3"), command.out());
    }
}
