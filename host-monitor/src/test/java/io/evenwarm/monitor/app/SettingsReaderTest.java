package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.link.KeyPin;
import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.app.MonitorSettings.AgentEntry;
import io.evenwarm.monitor.history.Retention;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.notice.NoticePlan;
import io.evenwarm.monitor.notice.OutboxLimits;
import io.evenwarm.quantity.TemperatureUnit;
import io.evenwarm.settings.SettingsFault;
import io.evenwarm.settings.SettingsResult;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** A settings file is read whole, and its faults are named all at once. */
final class SettingsReaderTest {

    private static final String HEX =
            "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff";
    private static final Path FILE = Path.of("/etc/evenwarm/monitor.toml");
    private static final Folders FOLDERS = Folders.of(Map.of(), "/home/keeper");

    private static final NoticeSettings NOBODY =
            new NoticeSettings(
                    new NoticePlan(List.of(), Duration.ofMinutes(30), OutboxLimits.USUAL),
                    List.of());

    private static MonitorSettings accepted(String... lines) {
        return SettingsReader.parse(FILE, String.join("\n", lines), FOLDERS)
                .fold(
                        SettingsResult.Accepted::value,
                        rejected -> {
                            throw new AssertionError(text(rejected.errors()));
                        });
    }

    private static String text(List<SettingsFault> faults) {
        return faults.stream().map(fault -> fault.text() + "\n").collect(Collectors.joining());
    }

    private static String resource(String name) throws IOException {
        try (InputStream in = SettingsReaderTest.class.getResourceAsStream(name)) {
            if (in == null) {
                throw new IOException("no resource " + name);
            }
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    @Test
    void everyKeyIsRead() {
        MonitorSettings settings =
                accepted(
                        "[monitor]",
                        "name = \"desk\"",
                        "data_folder = \"history\"",
                        "temperature_unit = \"F\"",
                        "zone = \"Europe/Berlin\"",
                        "[history]",
                        "keep_readings_days = 100",
                        "keep_1min_days = 200",
                        "keep_10min_days = 300",
                        "keep_1h_days = 4000",
                        "keep_6h_days = 5000",
                        "url = \"jdbc:postgresql://db/eggs?user=keeper\"",
                        "[page]",
                        "listen = \"0.0.0.0:8443\"",
                        "address = \"https://192.168.1.10:8443/\"",
                        "[[agent]]",
                        "name = \"egg room\"",
                        "address = \"[fd00::20]:4770\"",
                        "key = \"sha256:" + HEX + "\"",
                        "[[agent]]",
                        "name = \"shed\"",
                        "serial = \"/dev/ttyACM0\"",
                        "baud = 9600",
                        "key = \"sha256:" + HEX + "\"");
        assertEquals(
                new MonitorSettings(
                        "desk",
                        Path.of("/etc/evenwarm/history"),
                        TemperatureUnit.FAHRENHEIT,
                        ZoneId.of("Europe/Berlin"),
                        new Retention(100, List.of(200, 300, 4000, 5000)),
                        Optional.of("jdbc:postgresql://db/eggs?user=keeper"),
                        Optional.of(
                                new PageSettings(
                                        "0.0.0.0",
                                        8443,
                                        Optional.of("https://192.168.1.10:8443"),
                                        Optional.empty())),
                        Optional.empty(),
                        List.of(
                                new AgentEntry(
                                        new AgentName("egg room"),
                                        new Route.Tls("fd00::20", 4770, new KeyPin(HEX))),
                                new AgentEntry(
                                        new AgentName("shed"),
                                        new Route.Serial(
                                                "/dev/ttyACM0",
                                                9600,
                                                Optional.of(new KeyPin(HEX))))),
                        NOBODY,
                        AlarmPlan.DEFAULT,
                        Optional.empty()),
                settings);
        assertEquals(
                List.of("[fd00::20]:4770", "/dev/ttyACM0"),
                settings.agents().stream().map(agent -> agent.route().where()).toList());
    }

    @Test
    void anAddressOfThePageThatNoPhoneCouldOpenIsAFault() {
        for (String wrong :
                List.of(
                        "192.168.1.10:8443",
                        "http://192.168.1.10",
                        "https://eggs.example/page",
                        "https://anna@eggs.example",
                        "https://eggs.example?x=1",
                        "https://",
                        "eggs")) {
            String found =
                    SettingsReader.parse(
                                    FILE,
                                    "[page]\nlisten = \"0.0.0.0:8443\"\naddress = \""
                                            + wrong
                                            + "\"",
                                    FOLDERS)
                            .fold(accepted -> "accepted", rejected -> text(rejected.errors()));
            assertTrue(found.contains("line 3: page / address"), wrong + ": " + found);
        }
    }

    @Test
    void whatIsNotSaidHasADefault() {
        MonitorSettings settings =
                accepted("[[agent]]", "name = \"shed\"", "serial = \"/dev/ttyACM0\"");
        assertEquals(
                new MonitorSettings(
                        "monitor",
                        Path.of("/home/keeper/.local/share/evenwarm"),
                        TemperatureUnit.CELSIUS,
                        ZoneId.systemDefault(),
                        Retention.DEFAULT,
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty(),
                        List.of(
                                new AgentEntry(
                                        new AgentName("shed"),
                                        new Route.Serial(
                                                "/dev/ttyACM0", 115_200, Optional.empty()))),
                        NOBODY,
                        AlarmPlan.DEFAULT,
                        Optional.empty()),
                settings);
    }

    @Test
    void aCoarserTierIsKeptAtLeastAsLongAsAFinerOne() {
        String found =
                SettingsReader.parse(
                                FILE,
                                "[history]\nkeep_readings_days = 30\nkeep_1min_days = 20\n",
                                FOLDERS)
                        .fold(accepted -> "accepted", rejected -> text(rejected.errors()));
        assertTrue(
                found.contains("line 3: history / keep_1min_days")
                        && found.contains("a whole number from 30 to 36500 days"),
                found);
        MonitorSettings longer = accepted("[history]", "keep_readings_days = 5000");
        assertEquals(5000, longer.retention().days(Tier.MINUTE), "what is not said grows along");
    }

    @Test
    void anotherKindOfDatabaseIsRefused() {
        String found =
                SettingsReader.parse(FILE, "[history]\nurl = \"jdbc:mysql://db/eggs\"\n", FOLDERS)
                        .fold(accepted -> "accepted", rejected -> text(rejected.errors()));
        assertTrue(
                found.contains("line 2: history / url")
                        && found.contains("jdbc:postgresql://192.168.1.5/evenwarm?user=evenwarm"),
                found);
    }

    @Test
    void settingsWithoutAnAgentAreAcceptedWithAWarning() {
        List<SettingsFault> warnings =
                SettingsReader.parse(FILE, "[monitor]\nname = \"desk\"\n", FOLDERS)
                        .fold(SettingsResult.Accepted::warnings, rejected -> List.of());
        assertEquals(
                """
                warning: /etc/evenwarm/monitor.toml, line 1: agent
                    found none; there is nothing to watch until an agent stands here: [[agent]] with name, address and key.
                """,
                text(warnings));
    }

    /** The golden text: what a person reads who got everything wrong. */
    @Test
    void everyFaultOfAFileIsNamedAtOnce() throws IOException {
        String found =
                SettingsReader.parse(Path.of("monitor.toml"), resource("faulty.toml"), FOLDERS)
                        .fold(
                                accepted -> "accepted",
                                rejected ->
                                        Stream.of(rejected.errors(), rejected.warnings())
                                                .map(SettingsReaderTest::text)
                                                .collect(Collectors.joining()));
        assertEquals(resource("faulty.approved.txt"), found);
    }

    @Test
    void foldersFollowTheUsersOwn() {
        assertEquals(
                new Folders(
                        Path.of("/home/keeper/.config/evenwarm/monitor.toml"),
                        Path.of("/home/keeper/.local/share/evenwarm")),
                Folders.of(Map.of("XDG_DATA_HOME", "relative"), "/home/keeper"));
        // XDG Base Directory Specification 0.8, "Environment variables" (from memory).
        assertEquals(
                new Folders(Path.of("/c/evenwarm/monitor.toml"), Path.of("/d/evenwarm")),
                Folders.of(Map.of("XDG_CONFIG_HOME", "/c", "XDG_DATA_HOME", "/d"), "/home/keeper"));
    }
}
