package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.notice.AnswerLinks;
import io.evenwarm.monitor.notice.channel.MailFront;
import io.evenwarm.monitor.notice.channel.TestCertificate;
import io.evenwarm.monitor.web.TrustingClient;
import io.evenwarm.testing.PlainCabinet;
import io.evenwarm.testing.Programs;
import io.evenwarm.testing.Waiting;
import jakarta.mail.MessagingException;
import jakarta.mail.internet.MimeMessage;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * The built programs: an agent with a simulated cabinet, a monitor that watches it, and a drill
 * from a third process to a real mail server and back by the link in the mail. Then the agent is
 * unplugged.
 */
@Tag("long")
@Timeout(240)
final class DrillIT {

    private static final int SECONDS_MAX = 100;

    private final MonotonicClock clock = SystemClock.monotonic();
    private final List<Process> started = new ArrayList<>();
    private final TestCertificate certificate = TestCertificate.forHost("localhost");
    private final GreenMail mail =
            new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
    private final Path folder;

    DrillIT(@TempDir Path folder) {
        this.folder = folder;
        mail.start();
    }

    @AfterEach
    void endAll() throws InterruptedException {
        for (Process process : started) {
            process.destroyForcibly().waitFor();
        }
        mail.stop();
    }

    private Process start(String name, String... command) throws IOException {
        ProcessBuilder builder =
                new ProcessBuilder(command)
                        .redirectError(folder.resolve(name + ".err").toFile())
                        .redirectOutput(folder.resolve(name + ".out").toFile());
        builder.environment().remove("DISPLAY");
        Process process = builder.start();
        started.add(process);
        return process;
    }

    private String said(String file) {
        try {
            return Files.readString(folder.resolve(file));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private String await(String file, String pattern) {
        Pattern wanted = Pattern.compile(pattern);
        Waiting.until(
                SECONDS_MAX,
                () -> wanted.matcher(said(file)).find(),
                () -> "no " + pattern + " in:\n" + said(file));
        Matcher matcher = wanted.matcher(said(file));
        assertTrue(matcher.find());
        return matcher.group(1);
    }

    private Process monitor(String name, String... arguments) throws IOException {
        List<String> command = new ArrayList<>(List.of(Programs.MONITOR.toString()));
        command.addAll(List.of(arguments));
        command.addAll(List.of("--settings", folder.resolve("monitor.toml").toString()));
        return start(name, command.toArray(String[]::new));
    }

    private void settings(int mailPort, String agent) throws IOException {
        int pagePort = Programs.freePort();
        certificate.trusted(folder);
        Files.writeString(
                folder.resolve("monitor.toml"),
                """
                [monitor]
                name = "desk"
                data_folder = "data"
                [page]
                listen = "127.0.0.1:%d"
                address = "https://127.0.0.1:%d"
                [[channel]]
                name = "post"
                kind = "mail"
                host = "localhost"
                port = %d
                from = "eggs@example.net"
                authority_file = "roots.pem"
                [[person]]
                name = "anna"
                mail = "anna@example.org"
                channels = ["post"]
                %s
                """
                        .formatted(pagePort, pagePort, mailPort, agent));
    }

    /** Starts an agent that knows this monitor. */
    private Process agent() throws IOException, InterruptedException {
        assertEquals(0, monitor("identity", "identity").waitFor());
        Files.writeString(
                folder.resolve("agent.toml"),
                """
                [agent]
                name = "egg room"
                state_folder = "state"
                [link.tls]
                listen = "127.0.0.1:0"
                trusted_keys = ["%s"]
                """
                                .formatted(said("identity.out").strip())
                        + PlainCabinet.NORTH);
        String config = folder.resolve("agent.toml").toString();
        Process key = start("key", Programs.AGENT.toString(), "identity", "--config", config);
        assertEquals(0, key.waitFor(), said("key.err"));
        return start("agent", Programs.AGENT.toString(), "run", "--announce", "--config", config);
    }

    private MimeMessage mail(int number, String subject) throws MessagingException {
        assertTrue(mail.waitForIncomingEmail(SECONDS_MAX * 1000L, number), "no mail " + number);
        MimeMessage message = mail.getReceivedMessages()[number - 1];
        assertTrue(message.getSubject().startsWith(subject), message.getSubject());
        return message;
    }

    private static String link(MimeMessage message) throws MessagingException, IOException {
        Matcher link =
                Pattern.compile("https://\\S+/answer/[A-Za-z0-9_-]{43}")
                        .matcher(message.getContent().toString());
        assertTrue(link.find(), message.getContent().toString());
        return link.group();
    }

    private static int press(String link) throws IOException, InterruptedException {
        String origin = link.substring(0, link.indexOf(AnswerLinks.PATH));
        HttpResponse<String> answer =
                TrustingClient.make()
                        .send(
                                HttpRequest.newBuilder(URI.create(origin + "/answer"))
                                        .header("Origin", origin)
                                        .header("Content-Type", "application/x-www-form-urlencoded")
                                        .POST(
                                                BodyPublishers.ofString(
                                                        "token="
                                                                + link.substring(
                                                                        link.lastIndexOf('/') + 1)))
                                        .build(),
                                BodyHandlers.ofString());
        return answer.statusCode();
    }

    private static double seconds(JsonNode report, String from, String to) {
        return Duration.between(
                                Instant.parse(report.get(from).asText()),
                                Instant.parse(report.get(to).asText()))
                        .toMillis()
                / 1000.0;
    }

    @Test
    void aDrillGoesToThePhoneAndBackAndAnUnpluggedAgentIsToldWithinAMinute()
            throws IOException, InterruptedException, MessagingException {
        try (MailFront front =
                new MailFront(mail.getSmtp().getPort(), certificate.serverContext())) {
            settings(front.port(), "");
            Process agent = agent();
            String port = await("agent.out", "\"tlsPort\":([0-9]+)");
            settings(
                    front.port(),
                    "[[agent]]\nname = \"egg room\"\naddress = \"127.0.0.1:"
                            + port
                            + "\"\nkey = \""
                            + await("key.out", "(sha256:[0-9a-f]{64})")
                            + "\"\n");
            monitor("watch", "watch", "--every", "1");
            await("watch.out", "(north).* °C, set 31");
            // The cabinet is in the store once its agent has journalled it.
            Waiting.until(SECONDS_MAX, this::isStored, () -> said("drill.err"));

            Process drill = monitor("drill", "drill", "north", "--json");
            MimeMessage told = mail(1, "DRILL, nothing is wrong");
            assertTrue(said("drill.err").contains("was asked for"), said("drill.err"));
            assertEquals(200, press(link(told)));
            assertTrue(drill.waitFor(SECONDS_MAX, TimeUnit.SECONDS));
            assertEquals(0, drill.exitValue(), said("drill.err"));
            mail(2, "DRILL over, nothing was wrong");
            JsonNode report = new ObjectMapper().readTree(said("drill.out"));
            assertEquals("acknowledged", report.get("outcome").asText());
            assertEquals("anna (by the link in a notice)", report.get("acknowledgedBy").asText());
            assertEquals(1, report.get("deliveries").size());
            assertEquals("delivered", report.get("deliveries").get(0).get("state").asText());
            System.out.printf(
                    "a drill: asked for to alarm raised %.3f s, to notice queued %.3f s, to handed"
                            + " over %.3f s, to acknowledged %.3f s%n",
                    seconds(report, "asked", "raised"),
                    seconds(report, "raised", "queued"),
                    seconds(report, "queued", "firstHandedOver"),
                    seconds(report, "firstHandedOver", "acknowledged"));

            // As by Ctrl-C; SIGINT itself may be ignored by what a shell began in its background.
            Process cancelled = monitor("cancelled", "drill", "egg room/north");
            mail(3, "DRILL, nothing is wrong");
            cancelled.destroy();
            assertTrue(cancelled.waitFor(SECONDS_MAX, TimeUnit.SECONDS));
            assertTrue(said("cancelled.err").contains("is cancelled"), said("cancelled.err"));
            mail(4, "DRILL over");

            agent.destroyForcibly().waitFor();
            long unpluggedNanos = clock.nanos();
            MimeMessage silent = mail(5, "A");
            double after = (clock.nanos() - unpluggedNanos) / 1e9;
            assertTrue(silent.getSubject().contains("silent"), silent.getSubject());
            System.out.printf("an unplugged agent is told by mail after %.1f s%n", after);
            assertTrue(after < 60, after + " s");
        }
    }

    /** Asked by a command that needs it and fails at once. */
    private boolean isStored() {
        try {
            Process asking = monitor("drill", "alarms", "north");
            return asking.waitFor() == 0;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new AssertionError(e);
        }
    }
}
