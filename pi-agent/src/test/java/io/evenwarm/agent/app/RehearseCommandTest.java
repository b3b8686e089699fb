package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.rehearsal.FaultKind;
import io.evenwarm.agent.rehearsal.Scenario;
import io.evenwarm.settings.SettingsFault;
import io.evenwarm.settings.SettingsFaults;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

final class RehearseCommandTest {

    private static final String WELDED =
            """
            duration_hours = 3
            [cabinet]
            set_point_celsius = 31.5
            cut_off_relay = %s
            [cabinet.simulated]
            volume_litres = 80
            [[fault]]
            at_minutes = 10
            kind = "heater-stuck-on"
            """;

    @TempDir Path folder;
    private String out = "";
    private String err = "";

    private int execute(String scenario, String... more) throws IOException {
        Path file = Files.writeString(folder.resolve("scenario.toml"), scenario);
        StringWriter outText = new StringWriter();
        StringWriter errText = new StringWriter();
        String[] arguments =
                Stream.concat(Stream.of("rehearse", file.toString()), Stream.of(more))
                        .toArray(String[]::new);
        int code = AgentMain.execute(new PrintWriter(outText), new PrintWriter(errText), arguments);
        out = outText.toString();
        err = errText.toString();
        return code;
    }

    private static List<String> faults(String text) {
        SettingsFaults faults = new SettingsFaults();
        assertEquals(Optional.empty(), ScenarioReader.parse("s.toml", text, faults));
        return faults.errors().stream().map(SettingsFault::text).toList();
    }

    @Test
    void aWeldedRelayIsStoppedByTheCutOffRelayAndWithoutOneTheAnswerIsNo() throws IOException {
        assertEquals(ExitCode.DONE, execute(WELDED.formatted("true")));
        assertTrue(out.startsWith("yes: the eggs stayed below the ceiling of 34.50 °C"), out);
        assertTrue(out.contains("cut off tripped, to the end"), out);
        assertEquals("", err);

        assertEquals(ExitCode.NO, execute(WELDED.formatted("false")));
        assertTrue(out.startsWith("NO: eggs were above the ceiling"), out);
    }

    @Test
    void oneSeedGivesOneRunAndAnotherAnother() throws IOException {
        execute(WELDED.formatted("true"), "--json");
        String first = out;
        execute(WELDED.formatted("true"), "--json");
        assertEquals(first, out);
        assertEquals(1, out.lines().count());
        execute(WELDED.formatted("true"), "--json", "--seed", "2");
        assertTrue(out.contains("\"seed\":2") && !out.equals(first), out);
    }

    @Test
    void temperaturesCanBeInFahrenheit() throws IOException {
        // 34.5 °C · 1.8 + 32 (NIST SP 811, B.8)
        execute(WELDED.formatted("true"), "--unit", "fahrenheit");
        assertTrue(out.startsWith("yes: the eggs stayed below the ceiling of 94.10 °F"), out);
    }

    @Test
    void everyFaultOfAScenarioIsNamedAtOnce() throws IOException {
        assertEquals(
                List.of(
                        "error: s.toml, line 1: duration_hours\n    found 0; allowed: a number above 0 and up to 9600 h",
                        "error: s.toml, line 4: cabinet / cut_off_celsius\n    found 32; allowed: at least 1 K above the set point of 31.5 °C",
                        "error: s.toml, line 7: fault number 1 / kind\n    found \"heater-stuck\"; allowed: one of "
                                + String.join(
                                        ", ",
                                        Stream.of(FaultKind.values()).map(FaultKind::word).toList())
                                + " (did you mean heater-stuck-on?)",
                        "error: s.toml, line 8: fault number 2 / at_minutes\n    found nothing; allowed: a number from 0 to 576000 min",
                        "error: s.toml, line 11: fault number 2 / when\n    found an unknown key; allowed: one of at_minutes, for_minutes, kind, probe, flow_share"),
                faults(
                        """
                        duration_hours = 0
                        [cabinet]
                        set_point_celsius = 31.5
                        cut_off_celsius = 32
                        [[fault]]
                        at_minutes = 1
                        kind = "heater-stuck"
                        [[fault]]
                        kind = "fan-slow"
                        flow_share = 0.5
                        when = 5
                        """));
        assertEquals(ExitCode.BAD_INPUT, execute("duration_hours = 1\n"));
        assertTrue(err.contains("a table [cabinet] with set_point_celsius"), err);
        assertEquals("", out);
    }

    @Test
    void eachKindOfFaultAsksForWhatItNeeds() {
        for (FaultKind kind : FaultKind.values()) {
            String scenario =
                    "duration_hours = 1\n[cabinet]\nset_point_celsius = 30\n[[fault]]\nat_minutes = 0\nkind = \""
                            + kind.word()
                            + "\"\n"
                            + (kind.needsProbe() ? "probe = \"top\"\n" : "")
                            + kind.numberKey().map(key -> key + " = 0.5\n").orElse("");
            SettingsFaults faults = new SettingsFaults();
            Optional<Scenario> read = ScenarioReader.parse("s.toml", scenario, faults);
            assertTrue(read.isPresent(), () -> scenario + faults.errors());
            if (kind.needsProbe()) {
                assertEquals(1, faults(scenario.replace("\"top\"", "\"attic\"")).size());
            }
            kind.numberKey()
                    .ifPresent(
                            key -> {
                                assertEquals(1, faults(scenario.replace("0.5", "999")).size());
                                assertEquals(
                                        1, faults(scenario.replace(key + " = 0.5\n", "")).size());
                            });
        }
    }

    @Test
    void theShippedScenariosAndTheDocumentsExampleCanBeRead() throws IOException {
        List<Path> shipped;
        try (Stream<Path> files = Files.list(Path.of("src/main/dist/scenarios"))) {
            shipped = files.sorted().toList();
        }
        assertEquals(3, shipped.size());
        for (Path file : shipped) {
            SettingsFaults faults = new SettingsFaults();
            assertTrue(ScenarioReader.read(file, faults).isPresent(), faults.errors()::toString);
        }
        String document = Files.readString(Path.of("../docs/scenarios.md"));
        String example = document.split("```toml\n", -1)[1].split("```", -1)[0];
        SettingsFaults faults = new SettingsFaults();
        assertTrue(
                ScenarioReader.parse("docs/scenarios.md", example, faults).isPresent(),
                faults.errors()::toString);
        for (FaultKind kind : FaultKind.values()) {
            assertTrue(document.contains("`" + kind.word() + "`"), kind::word);
        }
    }
}
