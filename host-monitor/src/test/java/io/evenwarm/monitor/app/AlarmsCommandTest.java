package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.alarm.ActionOutcome;
import io.evenwarm.monitor.alarm.AlarmChange;
import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmDesk;
import io.evenwarm.monitor.alarm.AlarmKey;
import io.evenwarm.monitor.alarm.AlarmSettings;
import io.evenwarm.monitor.alarm.AlarmWords;
import io.evenwarm.monitor.alarm.Fact;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.alarm.Now;
import io.evenwarm.monitor.alarm.OperatorAction;
import io.evenwarm.monitor.alarm.Subject;
import io.evenwarm.monitor.store.HistoryStore;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Open alarms and the log, as commands print them. */
final class AlarmsCommandTest {

    private static final Instant NIGHT = Instant.parse("2026-03-01T03:00:00Z");

    private final Path home;
    private final ByteArrayOutputStream out = new ByteArrayOutputStream();
    private final ByteArrayOutputStream err = new ByteArrayOutputStream();

    AlarmsCommandTest(@TempDir Path home) throws IOException {
        this.home = home;
        Files.writeString(
                home.resolve("monitor.toml"),
                "[monitor]\ndata_folder = \"data\"\nzone = \"Europe/Berlin\"\n");
        AlarmKey key = AlarmKey.of(Subject.MONITOR, AlarmCodes.NOTICES_FAILING);
        AlarmDesk desk =
                AlarmDesk.begin(
                        AlarmSettings.DEFAULT,
                        new NewtonTimeLeft(NewtonTimeLeft.Assumptions.DEFAULT),
                        Set.of(new AgentName("egg room")),
                        at(0));
        List<AlarmChange> changes =
                new ArrayList<>(
                        desk.told(
                                new Fact(
                                        key, true, new AlarmWords("the post is shut", "", "Walk.")),
                                at(1)));
        desk.act(new OperatorAction.Acknowledge(key), "anna", at(60))
                .fold(ActionOutcome.Done::changes, refused -> List.<AlarmChange>of())
                .forEach(changes::add);
        try (HistoryStore store = HistoryStore.open(home.resolve("data"))) {
            store.alarms().keep(changes, desk.state(at(61)));
        }
    }

    private static Now at(int second) {
        return new Now(NIGHT.plusSeconds(second), second * 1_000_000_000L);
    }

    private int run(String... arguments) {
        List<String> all =
                new ArrayList<>(
                        List.of("alarms", "--settings", home.resolve("monitor.toml").toString()));
        all.addAll(List.of(arguments));
        return MonitorMain.run(
                Folders.of(Map.of(), home.toString()),
                new Output(print(out), print(err)),
                all.toArray(String[]::new));
    }

    private static PrintStream print(ByteArrayOutputStream bytes) {
        return new PrintStream(bytes, true, StandardCharsets.UTF_8);
    }

    @Test
    void whatIsOpenAndWhatChangedIsPrintedInLocalTimeWithItsZone() {
        assertEquals(0, run("--from", "2026-03-01T04:00", "--to", "2026-03-01T05:00"));
        assertEquals(
                """
                Open:
                  monitor notices-failing, medium, acknowledged, since 2026-03-01 04:00:01 CET: the post is shut
                Log:
                  2026-03-01 04:00:01 CET  monitor notices-failing: normal to unacknowledged, medium, by monitor: the post is shut
                  2026-03-01 04:01:00 CET  monitor notices-failing: unacknowledged to acknowledged, medium, by anna: acknowledged by anna
                """,
                out.toString(StandardCharsets.UTF_8).replace("\r\n", "\n"));
    }

    @Test
    void asJsonItIsOneObject() {
        assertEquals(
                0, run("--json", "--from", "2026-03-01T03:01:00Z", "--to", "2026-03-01T05:00"));
        assertEquals(
                "{\"open\": [{\"subject\": \"monitor\", \"code\": \"notices-failing\", \"probe\":"
                        + " null, \"state\": \"acknowledged\", \"priority\": \"medium\", \"since\":"
                        + " \"2026-03-01T03:00:01Z\", \"timeLeftSeconds\": null, \"evidence\": \"the"
                        + " post is shut\", \"advice\": \"Walk.\"}], \"log\": [{\"number\": 2, \"at\":"
                        + " \"2026-03-01T03:01:00Z\", \"subject\": \"monitor\", \"code\":"
                        + " \"notices-failing\", \"probe\": null, \"from\": \"unacknowledged\","
                        + " \"to\": \"acknowledged\", \"who\": \"anna\", \"why\": \"acknowledged by"
                        + " anna\", \"priority\": \"medium\", \"evidence\": \"the post is shut\"}]}",
                out.toString(StandardCharsets.UTF_8).strip());
    }

    @Test
    void howWellAlarmsServedIsPrintedBesideTheBarsOfTheStandards() {
        assertEquals(0, run("--figures", "--from", "2026-03-01T04:00", "--to", "2026-03-03T04:00"));
        assertEquals(
                """
                How well alarms served, 2026-03-01 04:00 CET to 2026-03-03 04:00 CET. In brackets: what the standards ask.
                  told               1, 0.021 an hour (6 at most)
                  most               1 in ten minutes (10 at most), 1 in an hour (30 at most)
                  flood              0.00 % of the time (under 1 %), begun 0 times
                  low, medium, high  0, 100, 0 % (about 80, 15, 5 %)
                  chattering         none (none)
                  over 24 h          monitor notices-failing; at most 1 on one day (under 5)
                  at the end         1 stand, 0 put away
                  ten most frequent  100 % of all (1 to 5 %)
                       1 × monitor notices-failing
                """,
                out.toString(StandardCharsets.UTF_8).replace("\r\n", "\n"));
    }

    /** What began before the span stands in it, and was not told in it. */
    @Test
    void figuresOfALaterSpanKnowWhatStoodWhenItBegan() {
        assertEquals(
                0,
                run(
                        "--figures",
                        "--json",
                        "--from",
                        "2026-03-01T12:00:00Z",
                        "--to",
                        "2026-03-01T15:00:00Z"));
        String json = out.toString(StandardCharsets.UTF_8);
        assertTrue(json.contains("\"annunciations\": 0,"), json);
        assertTrue(json.contains("\"standing\": 1,"), json);
        assertTrue(json.contains("\"stale\": []"), json);
    }

    @Test
    void figuresOfNoTimeAreRefused() {
        assertEquals(2, run("--figures", "--from", "2026-03-01T04:00", "--to", "2026-03-01T04:00"));
        assertTrue(
                err.toString(StandardCharsets.UTF_8).contains("--from"),
                err.toString(StandardCharsets.UTF_8));
    }

    @Test
    void withoutASpanTheLastWeekIsMeant() {
        assertEquals(0, run());
        assertTrue(
                out.toString(StandardCharsets.UTF_8).contains("Nothing changed in that time."),
                out.toString(StandardCharsets.UTF_8));
    }

    @Test
    void aWrongTimeOrCabinetIsBadInput() {
        for (String[] wrong :
                new String[][] {
                    {"--from", "yesterday"},
                    {"--from", "2026-03-02T00:00", "--to", "2026-03-01T00:00"},
                    {"attic"}
                }) {
            err.reset();
            assertEquals(2, run(wrong), String.join(" ", wrong));
            assertTrue(
                    err.toString(StandardCharsets.UTF_8).contains(" must "),
                    String.join(" ", wrong));
        }
    }
}
