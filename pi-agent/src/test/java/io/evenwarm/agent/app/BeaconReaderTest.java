package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.settings.SettingsFault;
import io.evenwarm.settings.SettingsResult;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

final class BeaconReaderTest {

    private static final String AGENT = "[agent]\nname = \"egg room\"\n";
    private static final String CABINET =
            """

            [[cabinet]]
            name = "north"
            set_point_celsius = 31.5
              [[cabinet.probe]]
              name = "top"
              position = "top"
              driver = "simulated"
              [cabinet.heater]
              driver = "simulated"
            """;

    private final Path folder;

    BeaconReaderTest(@TempDir Path folder) throws IOException {
        this.folder = folder;
        secret("word", "sesame", "rw-------");
        secret("switch", "https://watch.example/feed/abc\n", "rw-------");
        secret("open", "sesame", "rw-r--r--");
    }

    private void secret(String name, String text, String rights) throws IOException {
        Files.writeString(folder.resolve(name), text);
        Files.setPosixFilePermissions(
                folder.resolve(name), PosixFilePermissions.fromString(rights));
    }

    /** {@code ~} is the end of a line. */
    private SettingsResult<AgentConfiguration> read(String tables) {
        return ConfigurationReader.parse(
                folder.resolve("agent.toml"), AGENT + tables.replace('~', '\n') + CABINET);
    }

    private static String texts(List<SettingsFault> faults) {
        return String.join("\n", faults.stream().map(SettingsFault::text).toList());
    }

    private BeaconSettings accepted(String tables) {
        return read(tables)
                .fold(
                        accepted -> accepted.value().beacon(),
                        rejected -> {
                            throw new AssertionError(texts(rejected.errors()));
                        });
    }

    @Test
    void secretsComeFromFilesOfTheirOwnAndAreNeverShown() {
        BeaconSettings beacon =
                accepted(
                        "[beacon.mqtt]~broker = 'ssl://broker.example:8883'~user = 'pi'~"
                                + "password_file = 'word'~[beacon.switch]~address_file = 'switch'");
        assertEquals("evenwarm/egg room", beacon.broker().orElseThrow().topic());
        assertEquals("sesame", beacon.broker().orElseThrow().login().orElseThrow().password());
        assertFalse(beacon.toString().contains("sesame"), beacon.toString());
        assertFalse(beacon.toString().contains("abc"), beacon.toString());
        assertEquals(60, beacon.feed().orElseThrow().plan().every().toSeconds());
        assertTrue(beacon.feed().orElseThrow().stopWhenAlone());
    }

    @Test
    void withoutATableNothingIsSaid() {
        assertEquals(BeaconSettings.NONE, accepted(""));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '"',
            value = {
                "[beacon.mqtt]~broker = 'broker.example' | ssl://host:port",
                "[beacon.mqtt]~broker = 'ssl://b:1'~topic = 'a/#' | none of them + or #",
                "[beacon.mqtt]~broker = 'ssl://b:1'~topic = 'a/' | no / at either end",
                "[beacon.mqtt]~broker = 'ssl://b:1'~user = 'pi' | both user and password_file",
                "[beacon.mqtt]~broker = 'ssl://b:1'~user = 'x'~password_file = 'open' | chmod 600",
                "[beacon.mqtt]~broker = 'ssl://b:1'~authority_file = 'word' | certificates in PEM",
                "[beacon.switch]~every_seconds = 60 | which holds the switch's address",
                "[beacon.switch]~address_file = 'word' | https://host/",
                "[beacon.switch]~address_file = 'none' | only its owner may read",
                "[beacon.switch]~address_file = 'switch'~every_seconds = 121 | 10 to 120",
            })
    void aFaultIsNamedWithWhatIsAllowedAndNoSecretInIt(String tables, String allowed) {
        String faults =
                read(tables).fold(accepted -> "accepted", rejected -> texts(rejected.errors()));
        assertTrue(faults.contains(allowed), faults);
        assertFalse(faults.contains("sesame"), faults);
    }

    @Test
    void aPasswordWithoutEncryptionIsWarnedOf() {
        String warnings =
                read("[beacon.mqtt]~broker = 'tcp://b:1'~user = 'pi'~password_file = 'word'")
                        .fold(
                                accepted -> texts(accepted.warnings()),
                                rejected -> texts(rejected.errors()));
        assertTrue(warnings.contains("crosses the network unencrypted"), warnings);
    }
}
