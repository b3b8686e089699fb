package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.settings.SettingsFault;
import io.evenwarm.settings.SettingsResult;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.junit.jupiter.api.Test;

/** The words that a keeper reads, and the example that a keeper copies. */
final class ConfigurationTextsTest {

    private static final Path DOCUMENT = Path.of("../docs/configuration.md");

    private static String resource(String name) throws IOException {
        try (InputStream in = ConfigurationTextsTest.class.getResourceAsStream(name)) {
            return new String(
                    Objects.requireNonNull(in, name).readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    /** To approve new words: read them in the failure, then put them into faulty.approved.txt. */
    @Test
    void everyFaultOfAFaultyFileIsNamedInTheApprovedWords() throws IOException {
        SettingsResult<AgentConfiguration> result =
                ConfigurationReader.parse(Path.of("faulty.toml"), resource("faulty.toml"));

        List<SettingsFault> faults =
                result.fold(accepted -> List.<SettingsFault>of(), SettingsResult.Rejected::errors);
        List<String> texts = new ArrayList<>();
        faults.forEach(fault -> texts.add(fault.text()));
        result.warnings().forEach(fault -> texts.add(fault.text()));
        assertEquals(resource("faulty.approved.txt"), String.join("\n", texts) + "\n");
    }

    @Test
    void theDocumentsExamplesAreAcceptedWithoutAWarning() throws IOException {
        List<String> examples = new ArrayList<>();
        String[] parts = Files.readString(DOCUMENT).split("```", -1);
        for (int i = 1; i < parts.length; i += 2) {
            if (parts[i].startsWith("toml")) {
                examples.add(parts[i].substring(4));
            }
        }
        assertEquals(2, examples.size());
        for (String example : examples) {
            SettingsResult<AgentConfiguration> result =
                    ConfigurationReader.parse(Path.of("/etc/evenwarm/agent.toml"), example);
            assertEquals(
                    List.of(),
                    result.fold(
                            accepted -> List.<SettingsFault>of(), SettingsResult.Rejected::errors));
            assertEquals(List.of(), result.warnings());
        }
    }

    /** Every key that the reader knows stands in the document's tables. */
    @Test
    void theDocumentNamesEveryKey() throws IOException {
        String document = Files.readString(DOCUMENT);
        SettingsResult<AgentConfiguration> result =
                ConfigurationReader.parse(
                        Path.of("probe.toml"),
                        """
                        [zzzzzzzzzz]
                        [agent]
                        zzzzzzzzzz = 1
                        [link]
                        zzzzzzzzzz = 1
                        [link.tls]
                        zzzzzzzzzz = 1
                        [link.serial]
                        zzzzzzzzzz = 1
                        [journal]
                        zzzzzzzzzz = 1
                        [sensors]
                        zzzzzzzzzz = 1
                        [simulation]
                        zzzzzzzzzz = 1
                        [[cabinet]]
                        zzzzzzzzzz = 1
                        [[cabinet.probe]]
                        driver = "simulated"
                        zzzzzzzzzz = 1
                        [cabinet.heater]
                        driver = "simulated"
                        zzzzzzzzzz = 1
                        [cabinet.vent]
                        driver = "gpio"
                        zzzzzzzzzz = 1
                        [cabinet.door]
                        driver = "gpio"
                        zzzzzzzzzz = 1
                        [cabinet.fan_tachometer]
                        driver = "gpio"
                        zzzzzzzzzz = 1
                        [cabinet.control]
                        zzzzzzzzzz = 1
                        [cabinet.guard]
                        zzzzzzzzzz = 1
                        [cabinet.simulated]
                        zzzzzzzzzz = 1
                        """);
        List<SettingsFault> unknown =
                result.fold(
                        accepted -> List.<SettingsFault>of(),
                        rejected ->
                                rejected.errors().stream()
                                        .filter(fault -> fault.found().equals("an unknown key"))
                                        .toList());
        assertEquals(17, unknown.size(), unknown::toString);
        for (SettingsFault fault : unknown) {
            for (String key : fault.allowed().substring("one of ".length()).split(", ", -1)) {
                assertTrue(
                        document.contains("`" + key + "`")
                                || document.contains("[" + key)
                                || document.contains("." + key + "]"),
                        () -> "docs/configuration.md does not name " + key);
            }
        }
    }
}
