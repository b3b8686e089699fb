package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.notice.Contact;
import io.evenwarm.monitor.notice.NoticePriority;
import io.evenwarm.monitor.notice.QuietHours;
import io.evenwarm.monitor.notice.Recipient;
import io.evenwarm.monitor.notice.Secret;
import io.evenwarm.monitor.notice.channel.MailServer;
import io.evenwarm.monitor.notice.channel.MqttBroker;
import io.evenwarm.settings.SettingsFault;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Duration;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Who is told, and how, is read whole; secrets stand in files of their owner's and nowhere else.
 */
final class NoticeSettingsTest {

    private static final String KEY = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";

    private final Path folder;

    NoticeSettingsTest(@TempDir Path folder) {
        this.folder = folder;
    }

    private void secret(String name, String rights, String text) throws IOException {
        Path file = folder.resolve(name);
        Files.writeString(file, text + "\n");
        Files.setPosixFilePermissions(file, PosixFilePermissions.fromString(rights));
    }

    /** The notices of settings that are accepted; or their faults and warnings in words. */
    private NoticeSettings accepted(String... lines) {
        return SettingsReader.parse(
                        folder.resolve("monitor.toml"),
                        "[monitor]\nzone = \"Europe/Berlin\"\n" + String.join("\n", lines),
                        Folders.of(Map.of(), "/home/keeper"))
                .fold(
                        accepted -> accepted.value().notices(),
                        rejected -> {
                            throw new AssertionError(text(rejected.errors().stream()));
                        });
    }

    private String faults(String... lines) {
        return SettingsReader.parse(
                        folder.resolve("monitor.toml"),
                        String.join("\n", lines),
                        Folders.of(Map.of(), "/home/keeper"))
                .fold(
                        accepted -> text(accepted.warnings().stream()),
                        rejected ->
                                text(
                                        Stream.concat(
                                                rejected.errors().stream(),
                                                rejected.warnings().stream())));
    }

    private String text(Stream<SettingsFault> faults) {
        return faults.map(fault -> fault.text() + "\n")
                .collect(Collectors.joining())
                .replace(folder + "/", "");
    }

    @Test
    void everyKeyIsRead() throws IOException {
        secret("post", "rw-------", "p");
        secret("address", "rw-------", "https://hook.example.org/token-4711");
        secret("key", "r--------", KEY);
        secret("broker", "rw-------", "q");
        NoticeSettings notices =
                accepted(
                        "[notices]",
                        "again_minutes = 20",
                        "stuck_minutes = 5",
                        "[[channel]]",
                        "name = \"post\"",
                        "kind = \"mail\"",
                        "host = \"mail.example.org\"",
                        "security = \"tls\"",
                        "user = \"eggs\"",
                        "password_file = \"post\"",
                        "from = \"eggs@example.org\"",
                        "limit_seconds = 7",
                        "[[channel]]",
                        "name = \"phone hook\"",
                        "kind = \"web-hook\"",
                        "address_file = \"address\"",
                        "signing_key_file = \"key\"",
                        "template = '{\"text\": \"{{subject}}\"}'",
                        "[[channel]]",
                        "name = \"broker\"",
                        "kind = \"mqtt\"",
                        "host = \"192.168.1.3\"",
                        "port = 1884",
                        "tls = false",
                        "user = \"eggs\"",
                        "password_file = \"broker\"",
                        "topic = \"house/eggs\"",
                        "[[channel]]",
                        "name = \"horn\"",
                        "kind = \"sound\"",
                        "[[channel]]",
                        "name = \"script\"",
                        "kind = \"program\"",
                        "command = [\"/usr/local/bin/tell\", \"--now\"]",
                        "[[person]]",
                        "name = \"Änne\"",
                        "mail = \"aenne@example.org\"",
                        "channels = [\"post\", \"phone hook\", \"broker\"]",
                        "answer_minutes = 5",
                        "quiet = \"22:00-07:00\"",
                        "quiet_passed_by = \"none\"",
                        "zone = \"UTC\"",
                        "[[person]]",
                        "name = \"Bert\"",
                        "channels = [\"horn\", \"script\"]",
                        "quiet = \"23:30-06:00\"");
        assertEquals(
                List.of(
                        new Contact(
                                new Recipient("Änne", Optional.of("aenne@example.org")),
                                List.of("post", "phone hook", "broker"),
                                Duration.ofMinutes(5),
                                Optional.of(
                                        QuietHours.parse(
                                                "22:00-07:00",
                                                ZoneId.of("UTC"),
                                                Optional.empty()))),
                        new Contact(
                                new Recipient("Bert", Optional.empty()),
                                List.of("horn", "script"),
                                Duration.ofMinutes(10),
                                Optional.of(
                                        QuietHours.parse(
                                                "23:30-06:00",
                                                ZoneId.of("Europe/Berlin"),
                                                Optional.of(NoticePriority.HIGH))))),
                notices.plan().chain());
        assertEquals(Duration.ofMinutes(20), notices.plan().again());
        assertEquals(Duration.ofMinutes(5), notices.plan().limits().stuckAfter());
        MailServer mail =
                assertInstanceOf(ChannelSettings.Mail.class, notices.channels().get(0)).server();
        assertEquals(465, mail.port());
        assertEquals(MailServer.Security.TLS, mail.security());
        assertEquals(Optional.of(new MailServer.Login("eggs", new Secret("p"))), mail.login());
        assertEquals(Duration.ofSeconds(7), mail.limit());
        MqttBroker broker =
                assertInstanceOf(ChannelSettings.Mqtt.class, notices.channels().get(2)).broker();
        assertEquals(1884, broker.port());
        assertTrue(broker.roots().isEmpty());
        assertEquals("house/eggs", broker.topic());
        assertEquals(
                new ChannelSettings.Program(
                        "script", List.of("/usr/local/bin/tell", "--now"), Duration.ofSeconds(20)),
                notices.channels().get(4));
        String all = notices.toString();
        assertFalse(all.contains("token-4711") || all.contains(KEY.substring(8)), all);
    }

    @Test
    void aSecretThatOthersMayReadOrThatIsNoneIsRefusedAndNotShown() throws IOException {
        String[] settings = {
            "[[channel]]",
            "name = \"post\"",
            "kind = \"mail\"",
            "host = \"mail.example.org\"",
            "user = \"eggs\"",
            "password_file = \"password\"",
            "from = \"eggs@example.org\"",
            "[[channel]]",
            "name = \"hook\"",
            "kind = \"web-hook\"",
            "address_file = \"address\"",
            "signing_key_file = \"key\"",
            "[[person]]",
            "name = \"Anna\"",
            "mail = \"anna@example.org\"",
            "channels = [\"post\", \"hook\"]"
        };
        secret("password", "rw-r-----", "hunter2");
        secret("address", "rw-------", "http://example.org/hunter2");
        secret("key", "rw-------", "hunter2");
        String form = "a file with one line that only its owner may read (chmod 600), which holds ";
        assertEquals(
                "error: monitor.toml, line 6: channel \"post\" / password_file\n"
                        + "    found \"password\" (others than its owner may read or change it);"
                        + " allowed: "
                        + form
                        + "the password\n"
                        + "error: monitor.toml, line 11: channel \"hook\" / address_file\n"
                        + "    found \"address\", which holds else; allowed: "
                        + form
                        + "an address that begins with https://\n"
                        + "error: monitor.toml, line 12: channel \"hook\" / signing_key_file\n"
                        + "    found \"key\", which holds else; allowed: "
                        + form
                        + "whsec_ and 24 to 64 octets in Base64\n",
                faults(settings).substring(0, faults(settings).indexOf("warning:")));
    }

    @Test
    void everyFaultIsNamedAtOnceWithWhatIsAllowed() {
        String found =
                faults(
                        "",
                        "[notices]",
                        "again_minutes = 0",
                        "[[channel]]",
                        "name = \"post\"",
                        "kind = \"mail\"",
                        "host = \"mail example\"",
                        "user = \"eggs\"",
                        "from = \"eggs\"",
                        "port = 70000",
                        "[[channel]]",
                        "name = \"hook\"",
                        "kind = \"web-hook\"",
                        "template = '{\"text\": \"{{subjekt}}\"}'",
                        "[[channel]]",
                        "name = \"hook\"",
                        "kind = \"fax\"",
                        "[[channel]]",
                        "name = \"script\"",
                        "kind = \"program\"",
                        "command = [\"tell\"]",
                        "[[channel]]",
                        "name = \"broker\"",
                        "kind = \"mqtt\"",
                        "host = \"b\"",
                        "topic = \"a/#\"",
                        "authority_file = \"none.pem\"",
                        "[[channel]]",
                        "name = \"mail two\"",
                        "kind = \"mail\"",
                        "host = \"b\"",
                        "from = \"a@example.org\"",
                        "[[person]]",
                        "name = \"Anna\"",
                        "channels = [\"mail two\", \"pager\"]",
                        "quiet = \"22-7\"",
                        "quiet_passed_by = \"urgent\"",
                        "[[person]]",
                        "name = \"Anna\"",
                        "mail = \"anna\"");
        for (String part :
                List.of(
                        "line 3: notices / again_minutes\n    found 0; allowed: a whole number from"
                                + " 1 to 1440 minutes",
                        "line 7: channel \"post\" / host\n    found \"mail example\"",
                        "line 9: channel \"post\" / from\n    found \"eggs\"",
                        "line 10: channel \"post\" / port\n    found 70000",
                        "channel \"post\" / password_file\n    found nothing; allowed: a"
                                + " file with one line",
                        "channel \"hook\" / template\n    found \"{\"text\": \"{{subjekt}}\"}\";"
                                + " allowed: a JSON object with fields such as {{subject}} in its"
                                + " texts; there is no field {{subjekt}}; there are id,",
                        "channel \"hook\" / name\n    found \"hook\"; allowed: a name that no other"
                                + " channel has",
                        "channel \"script\" / command\n    found \"tell\"; allowed: a program's"
                                + " whole path",
                        "channel \"broker\" / topic\n    found \"a/#\"; allowed: a topic without"
                                + " wildcards",
                        "channel \"broker\" / authority_file\n    found \"none.pem\"; allowed: a file"
                                + " with certificates",
                        "person \"Anna\" / channels\n    found \"pager\"; allowed: the names of"
                                + " [[channel]]: broker, hook, mail two, post, script",
                        "person \"Anna\" / mail\n    found nothing; allowed: a mail address, since"
                                + " \"mail two\" is mail",
                        "person \"Anna\" / quiet\n    found \"22-7\"; allowed: two different times"
                                + " of day",
                        "person \"Anna\" / quiet_passed_by\n    found \"urgent\"; allowed: one of"
                                + " low, medium, high, none",
                        "person \"Anna\" / name\n    found \"Anna\"; allowed: a name that no other"
                                + " person has",
                        "person \"Anna\" / mail\n    found \"anna\"; allowed: a mail address alone",
                        "person \"Anna\" / channels\n    found nothing; allowed: the names of")) {
            assertTrue(found.contains(part), part + "\nis missing in\n" + found);
        }
    }

    @Test
    void aChannelThatNobodyIsToldByIsSaid() {
        assertTrue(
                faults("[[channel]]", "name = \"horn\"", "kind = \"sound\"")
                        .contains(
                                "warning: monitor.toml, line 2: channel \"horn\" / name\n    found a"
                                        + " channel that no [[person]] names; nothing is sent by"
                                        + " it."),
                faults("[[channel]]", "name = \"horn\"", "kind = \"sound\""));
    }
}
