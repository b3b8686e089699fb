package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.link.Identity;
import io.evenwarm.link.ServingTls;
import io.evenwarm.monitor.alarm.AlarmCodes;
import io.evenwarm.monitor.alarm.AlarmKey;
import io.evenwarm.monitor.alarm.AlarmSettings;
import io.evenwarm.monitor.alarm.AlarmWords;
import io.evenwarm.monitor.alarm.Fact;
import io.evenwarm.monitor.alarm.NewtonTimeLeft;
import io.evenwarm.monitor.alarm.Subject;
import io.evenwarm.monitor.alert.AlarmBoard;
import io.evenwarm.monitor.alert.AlarmKeeper;
import io.evenwarm.monitor.live.LiveModel;
import io.evenwarm.monitor.notice.AnswerLinks;
import io.evenwarm.monitor.notice.Contact;
import io.evenwarm.monitor.notice.NoticePlan;
import io.evenwarm.monitor.notice.OutboxLimits;
import io.evenwarm.monitor.notice.Recipient;
import io.evenwarm.monitor.notice.channel.MailFront;
import io.evenwarm.monitor.notice.channel.MailServer;
import io.evenwarm.monitor.notice.channel.TestCertificate;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.web.PageAccess;
import io.evenwarm.monitor.web.PageServer;
import io.evenwarm.monitor.web.TrustingClient;
import io.evenwarm.quantity.TemperatureUnit;
import io.evenwarm.testing.Programs;
import jakarta.mail.MessagingException;
import jakarta.mail.internet.MimeMessage;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * From an alarm through real mail to the link in it, and back by the page's own server: a mail
 * scanner acknowledges nothing, a press does.
 */
@Timeout(120)
final class AnswerByLinkTest {

    private static final Duration ANSWER = Duration.ofSeconds(2);
    private static final Duration AGAIN = Duration.ofSeconds(3);

    @TempDir private Path folder;

    private final TestCertificate certificate = TestCertificate.forHost("localhost");
    private final HttpClient client = TrustingClient.make();

    private static Contact contact(String person) {
        return new Contact(
                new Recipient(person, Optional.of(person + "@example.org")),
                List.of("post"),
                ANSWER,
                Optional.empty());
    }

    private NoticeSettings settings(int mailPort) {
        return new NoticeSettings(
                new NoticePlan(
                        List.of(contact("anna"), contact("bert")), AGAIN, OutboxLimits.USUAL),
                List.of(
                        new ChannelSettings.Mail(
                                "post",
                                new MailServer(
                                        "localhost",
                                        mailPort,
                                        MailServer.Security.STARTTLS,
                                        Optional.empty(),
                                        "eggs@example.net",
                                        certificate.trusted(folder),
                                        Duration.ofSeconds(30)))));
    }

    private static Fact trouble() {
        return new Fact(
                AlarmKey.of(Subject.MONITOR, AlarmCodes.STORE_FAILING),
                true,
                new AlarmWords("invented", "", "Do nothing."));
    }

    private static String link(MimeMessage mail) {
        try {
            Matcher matcher =
                    Pattern.compile("https://\\S+/answer/[A-Za-z0-9_-]{43}")
                            .matcher(mail.getContent().toString());
            assertTrue(matcher.find(), mail.getContent().toString());
            return matcher.group();
        } catch (MessagingException | IOException e) {
            throw new AssertionError(e);
        }
    }

    private HttpResponse<String> ask(String link, String method)
            throws IOException, InterruptedException {
        return client.send(
                HttpRequest.newBuilder(URI.create(link))
                        .method(method, BodyPublishers.noBody())
                        .build(),
                BodyHandlers.ofString());
    }

    private HttpResponse<String> press(String link) throws IOException, InterruptedException {
        String origin = link.substring(0, link.indexOf(AnswerLinks.PATH));
        return client.send(
                HttpRequest.newBuilder(URI.create(origin + "/answer"))
                        .header("Origin", origin)
                        .header("Content-Type", "application/x-www-form-urlencoded")
                        .POST(
                                BodyPublishers.ofString(
                                        "token=" + link.substring(link.lastIndexOf('/') + 1)))
                        .build(),
                BodyHandlers.ofString());
    }

    @Test
    void aScannerOfMailAcknowledgesNothingAndAPressStopsTheChain()
            throws IOException, InterruptedException {
        GreenMail mail = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
        mail.start();
        int pagePort = Programs.freePort();
        Path data = Files.createDirectory(folder.resolve("data"));
        LiveModel live = new LiveModel(SystemClock.monotonic(), List.of());
        try (MailFront front =
                        new MailFront(mail.getSmtp().getPort(), certificate.serverContext());
                HistoryStore store = HistoryStore.open(data)) {
            AnswerLinks links =
                    new AnswerLinks(
                            "https://127.0.0.1:" + pagePort,
                            OwnSecret.loadOrCreate(data.resolve("answer-key")),
                            store.notices(),
                            SystemClock.wall());
            try (NoticeStation notices =
                            NoticeStation.start(
                                    settings(front.port()),
                                    TemperatureUnit.CELSIUS,
                                    ZoneOffset.UTC,
                                    store.notices(),
                                    links::of);
                    AlarmKeeper keeper =
                            AlarmKeeper.start(
                                    AlarmSettings.DEFAULT,
                                    new NewtonTimeLeft(NewtonTimeLeft.Assumptions.DEFAULT),
                                    Set.of(),
                                    new AlarmKeeper.Around(
                                            live,
                                            store.alarms(),
                                            Optional.of(notices.desk()),
                                            () -> List.of(trouble()),
                                            List::of),
                                    SystemClock.monotonic(),
                                    SystemClock.wall());
                    PageServer page =
                            PageServer.start(
                                    new PageServer.Content(
                                            live,
                                            store,
                                            new DeskAlarms(new AlarmBoard(keeper)),
                                            new DeskAnswers(links, keeper, notices.desk()),
                                            new PageAccess(data.resolve("page")),
                                            SystemClock.wall()::now,
                                            TemperatureUnit.CELSIUS,
                                            ZoneOffset.UTC),
                                    new InetSocketAddress(
                                            InetAddress.getLoopbackAddress(), pagePort),
                                    ServingTls.of(Identity.create("evenwarm page")))) {
                assertEquals(pagePort, page.port());
                assertTrue(mail.waitForIncomingEmail(30_000, 1), "no mail came");
                String link = link(mail.getReceivedMessages()[0]);
                for (int i = 0; i < 3; i++) {
                    HttpResponse<String> opened = ask(link, "GET");
                    assertEquals(200, opened.statusCode());
                    assertTrue(opened.body().contains("store failing"), opened.body());
                    ask(link, "HEAD");
                }
                assertEquals(404, ask(link + "x", "GET").statusCode());
                // Nobody acknowledged: the second in the chain is told, with a link of their own.
                assertTrue(mail.waitForIncomingEmail(30_000, 2), "the chain stopped");
                assertNotEquals(link, link(mail.getReceivedMessages()[1]));
                assertEquals(List.of(), whoAcknowledged(store), "something acknowledged by itself");

                assertEquals(200, press(link).statusCode());
                assertEquals(List.of("anna (by the link in a notice)"), whoAcknowledged(store));
                int told = mail.getReceivedMessages().length;
                TimeUnit.MILLISECONDS.sleep(AGAIN.plus(ANSWER).toMillis());
                assertEquals(told, mail.getReceivedMessages().length, "the chain went on");
                assertEquals(409, press(link).statusCode());
                assertEquals(200, ask(link, "GET").statusCode());
            }
            assertNothingTells(data, mail);
        } finally {
            mail.stop();
        }
    }

    private static List<String> whoAcknowledged(HistoryStore store) throws IOException {
        return store.alarms().newest(100).stream()
                .filter(change -> change.to().equals("acknowledged"))
                .map(change -> change.who())
                .toList();
    }

    /** The secrets of links stand in no file. */
    private static void assertNothingTells(Path data, GreenMail mail) throws IOException {
        try (Stream<Path> files = Files.walk(data)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                String octets =
                        new String(
                                Files.readAllBytes(file),
                                java.nio.charset.StandardCharsets.ISO_8859_1);
                for (MimeMessage message : mail.getReceivedMessages()) {
                    String link = link(message);
                    assertFalse(
                            octets.contains(link.substring(link.lastIndexOf('/') + 1)),
                            file + " holds a link's secret");
                }
            }
        }
    }
}
