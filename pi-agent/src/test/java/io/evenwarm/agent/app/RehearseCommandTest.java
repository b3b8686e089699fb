package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
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
            duration = "3h"
            [cabinet]
            set_point_celsius = 31.5
            cut_off_relay = %s
            volume_litres = 80
            [[fault]]
            at = "10min"
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
        assertTrue(out.contains("heater stuck on"), out);
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
                        "error: s.toml, line 1: duration\n    found \"0 h\"; allowed: above 0 s to 400d",
                        "error: s.toml, line 4: cabinet / cut_off_celsius\n    found 32; allowed: at least 1 K above the set point of 31.5 °C",
                        "error: s.toml, line 7: fault number 1 / kind\n    found \"heater-stuck\"; allowed: one of "
                                + String.join(
                                        ", ",
                                        Stream.of(FaultKind.values()).map(FaultKind::word).toList())
                                + " (did you mean heater-stuck-on?)",
                        "error: s.toml, line 8: fault number 2 / at\n    found nothing; allowed: "
                                + DurationText.ALLOWED,
                        "error: s.toml, line 11: fault number 2 / when\n    found an unknown key; allowed: one of at, for, kind, flow_share"),
                faults(
                        """
                        duration = "0 h"
                        [cabinet]
                        set_point_celsius = 31.5
                        cut_off_celsius = 32
                        [[fault]]
                        at = "1 min"
                        kind = "heater-stuck"
                        [[fault]]
                        kind = "fan-slow"
                        flow_share = 0.5
                        when = 5
                        """));
        assertEquals(ExitCode.BAD_INPUT, execute("duration = \"1h\"\n"));
        assertTrue(err.contains("a table [cabinet] with set_point_celsius"), err);
        assertEquals("", out);
    }

    @Test
    void eachKindOfFaultAsksForWhatItNeeds() {
        for (FaultKind kind : FaultKind.values()) {
            String number = Double.toString(kind.usualNumber().orElse(0.5));
            String scenario =
                    "duration = \"1h\"\n[cabinet]\nset_point_celsius = 30\n[[fault]]\nat = \"0s\"\nkind = \""
                            + kind.word()
                            + "\"\n"
                            + (kind.needsProbe() ? "probe = \"top\"\n" : "")
                            + (kind.needsTwoProbes() ? "with = \"bottom\"\n" : "")
                            + kind.numberKey().map(key -> key + " = " + number + "\n").orElse("")
                            + kind.flagKey().map(key -> key + " = true\n").orElse("");
            SettingsFaults faults = new SettingsFaults();
            Optional<Scenario> read = ScenarioReader.parse("s.toml", scenario, faults);
            assertTrue(read.isPresent(), () -> scenario + faults.errors());
            if (kind.needsProbe()) {
                assertEquals(1, faults(scenario.replace("\"top\"", "\"attic\"")).size());
            }
            if (kind.needsTwoProbes()) {
                assertEquals(1, faults(scenario.replace("\"bottom\"", "\"top\"")).size());
                assertEquals(1, faults(scenario.replace("with = \"bottom\"\n", "")).size());
            }
            if (kind.numberKey().isPresent()) {
                String line = kind.numberKey().get() + " = " + number + "\n";
                assertEquals(1, faults(scenario.replace(number, "900000000")).size());
                SettingsFaults without = new SettingsFaults();
                assertEquals(
                        kind.usualNumber().isPresent(),
                        ScenarioReader.parse("s.toml", scenario.replace(line, ""), without)
                                .isPresent());
            }
        }
    }

    @Test
    void timesAreWrittenWithTheirUnit() {
        assertEquals(90, DurationText.seconds("90s"));
        assertEquals(900, DurationText.seconds("15 min"));
        assertEquals(5400, DurationText.seconds("1.5h"));
        assertEquals(28 * 86_400, DurationText.seconds("28d"));
        for (String wrong : List.of("", "6", "h", "-1h", "6 hours", "1h30min", "1e3s", "6m")) {
            assertThrows(IllegalArgumentException.class, () -> DurationText.seconds(wrong), wrong);
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

    private static final String FROM_COLD =
            """
            seed = 7
            duration = "10h"
            [cabinet]
            volume_litres = 250
            heater_watts = 130
            ambient_celsius = 18
            set_point_celsius = 31.5
            start = "cold"
            """;

    @Test
    void constantsFromATestShowTheirResponseBeforeTheyAreApplied() throws IOException {
        String proposed =
                """
                [cabinet.control]
                gain_per_kelvin = 0.600
                integral_seconds = 690
                derivative_seconds = 27
                window_seconds = 116
                minimum_on_seconds = 4
                minimum_off_seconds = 4
                gain_follows_duty = false
                """;
        assertEquals(0, execute(FROM_COLD), err);
        String usual = control();
        assertEquals(0, execute(FROM_COLD + proposed), err);
        String tuned = control();
        assertTrue(tuned.matches(".*reached the set point at 1:[0-5].*"), tuned);
        assertTrue(tuned.matches(".*at most 0\\.[0-2][0-9] K above it.*"), tuned);
        assertTrue(tuned.matches(".*10-minute mean within 0\\.0[0-4][0-9] K of it"), tuned);
        assertTrue(!usual.equals(tuned), "other constants, another response");
    }

    private String control() {
        return out.lines().filter(line -> line.startsWith("control ")).findFirst().orElseThrow();
    }

    @Test
    void aWindowThatAMechanicalRelayDoesNotBearIsRefusedInAScenarioToo() {
        assertEquals(1, faults(FROM_COLD + "[cabinet.control]\nwindow_seconds = 60\n").size());
    }
}
