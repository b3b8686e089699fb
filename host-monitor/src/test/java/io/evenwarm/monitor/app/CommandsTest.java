package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.store.HistoryStore;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What commands print where, and how they end. */
final class CommandsTest {

    private static final String HEX =
            "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff";

    private final Path home;
    private final ByteArrayOutputStream out = new ByteArrayOutputStream();
    private final ByteArrayOutputStream err = new ByteArrayOutputStream();

    CommandsTest(@TempDir Path home) {
        this.home = home;
    }

    private int run(String... arguments) {
        return MonitorMain.run(
                Folders.of(Map.of(), home.toString()),
                new Output(print(out), print(err)),
                arguments);
    }

    private static PrintStream print(ByteArrayOutputStream bytes) {
        return new PrintStream(bytes, true, StandardCharsets.UTF_8);
    }

    private String out() {
        return out.toString(StandardCharsets.UTF_8);
    }

    private String err() {
        return err.toString(StandardCharsets.UTF_8);
    }

    private Path settings(String... lines) throws IOException {
        Path file = home.resolve("monitor.toml");
        Files.writeString(file, String.join("\n", lines));
        return file;
    }

    private Path twoAgents() throws IOException {
        return settings(
                "[monitor]",
                "data_folder = \"data\"",
                "[[agent]]",
                "name = \"egg room\"",
                "address = \"192.0.2.20:4770\"",
                "key = \"sha256:" + HEX + "\"",
                "[[agent]]",
                "name = \"shed\"",
                "serial = \"/dev/ttyACM0\"");
    }

    @Test
    void agentsListsWhatStandsInTheSettings() throws IOException {
        assertEquals(0, run("agents", "--settings", twoAgents().toString()));
        assertEquals(
                "egg room: 192.0.2.20:4770, key sha256:"
                        + HEX
                        + "\nshed: /dev/ttyACM0 at 115200 bits a second, no key known\n",
                out().replace("\r\n", "\n"));
        assertEquals("", err());
    }

    @Test
    void agentsAsJsonIsOneObjectAndNothingElse() throws IOException {
        assertEquals(0, run("--settings", twoAgents().toString(), "agents", "--json"));
        assertEquals(
                "{\"agents\": [{\"name\": \"egg room\", \"address\": \"192.0.2.20:4770\", \"key\":"
                        + " \"sha256:"
                        + HEX
                        + "\"}, {\"name\": \"shed\", \"serial\": \"/dev/ttyACM0\", \"baud\":"
                        + " 115200, \"key\": null}]}",
                out().strip());
    }

    @Test
    void identityPrintsTheSameKeyEachTime() throws IOException {
        String file = twoAgents().toString();
        assertEquals(0, run("identity", "--settings", file));
        String key = out().strip();
        assertTrue(key.matches("sha256:[0-9a-f]{64}"), key);
        out.reset();
        assertEquals(0, run("identity", "--settings", file, "--json"));
        assertEquals("{\"key\": \"" + key + "\"}", out().strip());
    }

    @Test
    void faultsOfTheSettingsAreBadInput() throws IOException {
        Path file = settings("[monitor]", "colour = \"green\"");
        for (String command : new String[] {"agents", "identity", "watch"}) {
            err.reset();
            assertEquals(2, run(command, "--settings", file.toString()), command);
            assertTrue(err().contains("line 2: monitor / colour"), err());
            assertEquals("", out());
        }
    }

    @Test
    void withoutSettingsAPersonHearsWhatToDo() {
        assertEquals(2, run());
        assertEquals(
                "There are no settings yet: write "
                        + home.resolve(".config/evenwarm/monitor.toml")
                        + " (docs/monitor.md lists the keys), or name a file with --settings. To"
                        + " see the program at work first: evenwarm demo",
                err().strip());
    }

    @Test
    void anUnknownOptionIsBadUsage() {
        assertEquals(2, run("demo", "--colour"));
        assertTrue(err().startsWith("Unknown option: '--colour'"), err());
    }

    @Test
    void aDemoWithoutAnAgentSaysWhatToDo() {
        Path nowhere = home.resolve("evenwarm-agent");
        assertEquals(2, run("demo", "--agent", nowhere.toString()));
        assertEquals(
                "There is no start script of an agent at "
                        + nowhere
                        + ": build it with mvn package -DskipTests, or name another one",
                err().strip());
    }

    @Test
    void numbersOutOfRangeAreNamed() {
        assertEquals(2, run("demo", "--speed", "0.5"));
        assertEquals("--speed must be 1 to 3600 but was 0.5", err().strip());
        err.reset();
        assertEquals(2, run("demo", "--seconds", "0"));
        assertEquals("--seconds must be 1 to 86400 but was 0", err().strip());
        err.reset();
        assertEquals(2, run("watch", "--every", "0"));
        assertEquals("--every must be 1 to 3600 s but was 0", err().strip());
    }

    @Test
    void aStoreThatIsInUseIsAnAnswerNotAStackTrace() throws IOException {
        Path file = twoAgents();
        Files.writeString(home.resolve("data"), "not a folder");
        assertEquals(1, run("watch", "--settings", file.toString()));
        assertTrue(
                err().startsWith("evenwarm: can't make the data folder " + home.resolve("data")),
                err());
    }

    @Test
    void helpAndVersionAreOk() {
        assertEquals(0, run("--version"));
        assertTrue(out().startsWith("evenwarm "), out());
        out.reset();
        assertEquals(0, run("--help"));
        for (String command : new String[] {"watch", "agents", "identity", "demo"}) {
            assertTrue(out().contains("  " + command), out());
        }
    }

    @Test
    void displaysAreMissedOnLinuxOnly() {
        assertTrue(Face.missingDisplay(Map.of(), "Linux").isPresent());
        assertTrue(Face.missingDisplay(Map.of("DISPLAY", ":0"), "Linux").isEmpty());
        assertTrue(Face.missingDisplay(Map.of(), "Mac OS X").isEmpty());
        assertTrue(
                Face.missingDisplay(Map.of("WAYLAND_DISPLAY", "w"), "Linux")
                        .orElse("")
                        .contains("XWayland"));
    }

    @Test
    void aStoreIsCheckedAndCopiedWhileAMonitorUsesIt() throws IOException {
        String file = twoAgents().toString();
        assertEquals(1, run("store", "check", "--settings", file));
        assertTrue(err().contains("there is no store"), err());
        Path copy = home.resolve("copy.sqlite");
        try (HistoryStore store = HistoryStore.open(home.resolve("data"))) {
            store.append(new AgentName("egg room"), "j", new Journal().top(5, 31).take());
            assertEquals(0, run("store", "check", "--settings", file));
            assertEquals(
                    "sound: 3 values and 12 stretches of tiers compared, 0 faults", out().strip());
            out.reset();
            assertEquals(0, run("store", "backup", "--settings", file, copy.toString()));
            assertEquals("copied to " + copy, out().strip());
        }
        err.reset();
        assertEquals(2, run("store", "backup", "--settings", file, copy.toString()));
        assertEquals(
                "FILE must be a file that is not there yet, but "
                        + copy
                        + " is: name another one, or move it away",
                err().strip());
        out.reset();
        assertEquals(0, run("store", "check", "--settings", file, "--json"));
        assertEquals(
                "{\"sound\": true, \"valuesCompared\": 3, \"stretchesCompared\": 12, \"faults\":"
                        + " 0, \"firstFaults\": []}",
                out().strip());
    }

    @Test
    void storeAloneSaysWhatItCanDo() {
        assertEquals(2, run("store"));
        assertTrue(err().contains("check") && err().contains("backup"), err());
    }

    private Path file(String name, String... lines) throws IOException {
        return Files.writeString(home.resolve(name), String.join("\n", lines) + "\n");
    }

    @Test
    void readingsComeFromAnotherLoggerByNamingItsColumns() throws IOException {
        String settings = twoAgents().toString();
        Path log = file("log.csv", "When,Box", "2026-03-01 12:00,88.7", "2026-03-01 12:05,hot");
        String[] common = {
            "readings",
            "import",
            log.toString(),
            "--settings",
            settings,
            "--time",
            "When",
            "--value",
            "Box=tub A",
            "--agent",
            "shed",
            "--cabinet",
            "north",
            "--unit",
            "F",
            "--zone",
            "UTC"
        };
        assertEquals(2, run(common));
        assertEquals("1 readings, 1 lines rejected\nnothing was stored", out().strip());
        assertEquals("line 3: Box: expected a number but found \"hot\"", err().strip());
        out.reset();
        assertEquals(0, run(with(common, "--preview", "--skip-rejected")));
        assertEquals(
                "2026-03-01T12:00:00Z  shed / north / tub A  31.500 °C\n1 readings, 1 lines"
                        + " rejected\nnothing was stored",
                out().strip());
        out.reset();
        Path rejected = home.resolve("rejected.txt");
        assertEquals(0, run(with(common, "--skip-rejected", "--rejected", rejected.toString())));
        assertTrue(out().endsWith("1 readings stored, 0 were there already\n"), out());
        assertEquals(
                "line 3: Box: expected a number but found \"hot\"",
                Files.readString(rejected).strip());
        out.reset();
        Path all = home.resolve("all.csv");
        assertEquals(0, run("readings", "export", all.toString(), "--settings", settings));
        assertEquals("1 readings to " + all, out().strip());
        assertTrue(
                Files.readString(all)
                        .endsWith("2026-03-01T12:00:00Z,shed,north,tub A,tub A,celsius,31.5,\n"),
                Files.readString(all));
        out.reset();
        assertEquals(0, run("readings", "import", all.toString(), "--settings", settings));
        assertTrue(out().endsWith("0 readings stored, 1 were there already\n"), out());
    }

    private static String[] with(String[] arguments, String... more) {
        return Stream.concat(Stream.of(arguments), Stream.of(more)).toArray(String[]::new);
    }

    @Test
    void importOptionsThatCannotBeAreSaid() throws IOException {
        String settings = twoAgents().toString();
        String log = file("log.csv", "When,Box", "2026-03-01 12:00,31").toString();
        String[] common = {"readings", "import", log, "--settings", settings, "--value", "Box=top"};
        assertEquals(2, run(common));
        assertEquals(
                "another logger's file needs --time COLUMN, --value COLUMN=PROBE, --agent NAME and"
                        + " --cabinet NAME",
                err().strip());
        String[] whole = with(common, "--time", "When", "--agent", "shed", "--cabinet", "north");
        for (String[] wrong :
                new String[][] {
                    {"--zone", "Middle/Earth", "--zone must be a time zone's name"},
                    {"--unit", "K", "--unit must be C, F or percent but was K"},
                    {"--separator", ";;", "--separator must be one character"},
                    {"--charset", "klingon", "--charset must be an encoding's name"},
                    {"--time-form", "bad{", "the time's form must be a pattern"}
                }) {
            err.reset();
            assertEquals(2, run(with(whole, wrong[0], wrong[1])), wrong[0]);
            assertTrue(err().startsWith(wrong[2]), err());
        }
        err.reset();
        assertEquals(2, run("readings", "import", home + "/none.csv", "--settings", settings));
        assertTrue(err().startsWith("FILE must be a file that can be read"), err());
        err.reset();
        assertEquals(
                2,
                run(
                        "readings",
                        "export",
                        home + "/x.csv",
                        "--settings",
                        settings,
                        "--from",
                        "now"));
        assertTrue(
                err().startsWith("--from must be a time such as 2026-03-01T12:00 (in the"), err());
    }

    @Test
    void aWholeStoreGoesThroughAnArchive() throws IOException {
        String settings = twoAgents().toString();
        try (HistoryStore store = HistoryStore.open(home.resolve("data"))) {
            store.append(new AgentName("egg room"), "j", new Journal().top(5, 31).take());
        }
        Path archive = home.resolve("all.zip");
        assertEquals(0, run("store", "export", archive.toString(), "--settings", settings));
        assertTrue(out().endsWith(" rows to " + archive + "\n"), out());
        assertEquals(1, run("store", "import", archive.toString(), "--settings", settings));
        assertTrue(err().contains(" is not empty, and an archive is taken in whole"), err());
        Files.delete(home.resolve("data").resolve(HistoryStore.FILE_NAME));
        out.reset();
        assertEquals(0, run("store", "import", archive.toString(), "--settings", settings));
        assertTrue(out().endsWith(" rows from " + archive + "\n"), out());
        out.reset();
        assertEquals(0, run("store", "check", "--settings", settings));
        assertTrue(out().startsWith("sound: 3 values"), out());
    }

    @Test
    void nothingIsImportedIntoAStoreThatAMonitorUses() throws IOException {
        String settings = twoAgents().toString();
        AgentName agent = new AgentName("egg room");
        Path archive = home.resolve("all.zip");
        Path csv =
                Files.writeString(
                        home.resolve("more.csv"),
                        """
                        time,agent,cabinet,probe,position,unit,value,doubt
                        2030-03-01T00:00:00Z,shed,west,top,top,celsius,30,
                        """);
        Journal journal = new Journal();
        try (HistoryStore store = HistoryStore.open(home.resolve("data"))) {
            store.append(agent, "j", journal.top(5, 31).take());
            assertEquals(0, run("store", "export", archive.toString(), "--settings", settings));
            for (String[] each :
                    List.of(
                            new String[] {"store", "import", archive.toString()},
                            new String[] {"readings", "import", csv.toString()})) {
                err.reset();
                assertEquals(1, run(each[0], each[1], each[2], "--settings", settings));
                assertEquals(
                        "evenwarm: another monitor (process "
                                + ProcessHandle.current().pid()
                                + ") is using "
                                + home.resolve("data")
                                + ": end it, or give this one a data_folder of its own",
                        err().strip());
            }
            store.append(agent, "j", journal.top(10, 31).take());
            assertEquals(2, store.lastSequence(agent, "j"));
            assertEquals(1, store.cabinets().size());
        }
        out.reset();
        assertEquals(0, run("store", "check", "--settings", settings));
        assertTrue(out().startsWith("sound: 6 values"), out());
    }

    @Test
    void tubsAreAddedListedAndEnded() throws IOException {
        String settings =
                settings(
                                "[monitor]",
                                "data_folder = \"data\"",
                                "zone = \"Europe/Berlin\"",
                                "[[agent]]",
                                "name = \"shed\"",
                                "serial = \"/dev/ttyACM0\"")
                        .toString();
        HistoryStore.open(home.resolve("data")).close();
        String[] add = {
            "tubs",
            "add",
            "A1",
            "--settings",
            settings,
            "--cabinet",
            "north",
            "--shelf",
            "top",
            "--contents",
            "11 eggs",
            "--from",
            "2026-03-01T12:00"
        };
        assertEquals(0, run(with(add, "--agent", "shed", "--grams", "840")), err());
        assertEquals(
                "A1: shed / north, shelf top, 840 g, 11 eggs, since 2026-03-01 12:00",
                out().strip());
        out.reset();
        assertEquals(1, run(with(add, "--agent", "shed", "--grams", "840")));
        assertTrue(err().contains("tub \"A1\" stands in shed / north"), err());
        err.reset();
        assertEquals(2, run(with(add, "--agent", "shop", "--grams", "840")));
        assertEquals("--agent must be one of the settings: [shed], but was shop", err().strip());
        err.reset();
        assertEquals(2, run(with(add, "--agent", "shed", "--grams", "0")));
        assertTrue(err().startsWith("a tub's mass must be more than 0"), err());
        err.reset();
        assertEquals(2, run("tubs", "end", "A1", "--settings", settings, "--to", "soon"));
        assertTrue(err().startsWith("--to must be a time such as"), err());
        assertEquals(
                0,
                run("tubs", "end", "A1", "--settings", settings, "--to", "2026-05-01T09:30:00Z"));
        assertEquals(0, run("tubs", "--settings", settings));
        assertEquals("", out());
        assertEquals(0, run("tubs", "--all", "--json", "--settings", settings));
        assertEquals(
                "{\"tubs\": [{\"name\": \"A1\", \"agent\": \"shed\", \"cabinet\": \"north\","
                        + " \"shelf\": \"top\", \"massGrams\": 840.0, \"contents\": \"11 eggs\","
                        + " \"from\": \"2026-03-01T11:00:00Z\", \"to\":"
                        + " \"2026-05-01T09:30:00Z\"}]}",
                out().strip());
    }
}
