package io.evenwarm.monitor.notice.channel;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.notice.Delivery;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeKind;
import io.evenwarm.monitor.notice.Notices;
import io.evenwarm.monitor.notice.Recipient;
import io.evenwarm.monitor.notice.Secret;
import jakarta.mail.MessagingException;
import jakarta.mail.internet.MimeMessage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Mail, by a real mail server and real STARTTLS before it. */
final class MailChannelTest {

    private static final String PASSWORD = "pässwörd & \"more\"";

    private final TestCertificate certificate = TestCertificate.forHost("localhost");
    private final TrustedRoots roots;
    private final GreenMail server =
            new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
    private final MailFront front;

    /** Generous, so that a busy machine fails no test; short only where the limit is the matter. */
    private Duration limit = Duration.ofSeconds(30);

    MailChannelTest(@TempDir Path folder) throws IOException {
        roots = certificate.trusted(folder);
        server.start();
        server.setUser("keeper@example.org", "evenwarm", PASSWORD);
        front = new MailFront(server.getSmtp().getPort(), certificate.serverContext());
    }

    @AfterEach
    void close() throws IOException {
        front.close();
        server.stop();
    }

    private MailServer to(int port, String host, String password) {
        return new MailServer(
                host,
                port,
                MailServer.Security.STARTTLS,
                Optional.of(new MailServer.Login("evenwarm", new Secret(password))),
                "evenwarm@example.net",
                roots,
                limit);
    }

    private MailChannel channel() {
        return new MailChannel("mail", to(front.port(), "localhost", PASSWORD));
    }

    private MimeMessage received(int index) {
        assertTrue(server.waitForIncomingEmail(5000, index + 1));
        return server.getReceivedMessages()[index];
    }

    private static String header(MimeMessage message, String name) throws MessagingException {
        return message.getHeader(name, ",");
    }

    @Test
    void aNoticeArrivesByStarttlsWithLoginAndReadsAsItWasWritten()
            throws MessagingException, IOException {
        Notice notice =
                Notices.of(
                        "e1",
                        1,
                        NoticeKind.FIRST,
                        Notices.cold("Nörd\r\nBcc: all@example.org 卵 \uD83E\uDD5A \"x\""));
        assertInstanceOf(Delivery.Delivered.class, channel().deliver(notice, Notices.KEEPER));
        MimeMessage message = received(0);
        assertEquals(notice.subject(), message.getSubject());
        assertEquals(
                notice.body().strip(),
                message.getContent().toString().replace("\r\n", "\n").strip());
        assertEquals("keeper@example.org", message.getAllRecipients()[0].toString());
        assertEquals(1, message.getAllRecipients().length, "no header came out of a name");
        assertEquals("evenwarm@example.net", message.getFrom()[0].toString());
        // RFC 3834 s.5.
        assertEquals("auto-generated", header(message, "Auto-Submitted"));
        assertEquals("high", header(message, "Importance"));
        // RFC 5322 s.2.1.1: no line of more than 998 characters; and all of it ASCII (s.2.1).
        ByteArrayOutputStream raw = new ByteArrayOutputStream();
        message.writeTo(raw);
        raw.toString(StandardCharsets.ISO_8859_1)
                .lines()
                .forEach(
                        line -> {
                            assertTrue(line.length() <= 998, line);
                            assertTrue(line.chars().allMatch(c -> c < 128), line);
                        });
        // Nothing but the change to TLS was said in the clear (RFC 3207 s.4).
        assertTrue(
                front.saidInTheClear.stream().allMatch(l -> l.matches("EHLO .*|STARTTLS")),
                front.saidInTheClear.toString());
    }

    @Test
    void aLinkToAcknowledgeByStandsInItsMailAloneOnALine() throws MessagingException, IOException {
        String link = "https://eggs.example:8443/answer/" + "t".repeat(43);
        Recipient anna =
                new Recipient("anna", Optional.of("keeper@example.org"), Optional.of(link));
        assertInstanceOf(Delivery.Delivered.class, channel().deliver(Notices.first("e1"), anna));
        assertTrue(received(0).getContent().toString().lines().anyMatch(link::equals));
    }

    /** RFC 5322 s.3.6.4. */
    @Test
    void followUpsOfAnEventAnswerItsFirstMailAndARepetitionIsTheSameMail()
            throws MessagingException {
        MailChannel channel = channel();
        Notice first = Notices.first("e1");
        Notice second = Notices.of("e1", 2, NoticeKind.FOLLOW_UP, Notices.cold("north"));
        Notice third = Notices.of("e1", 3, NoticeKind.ALL_CLEAR, Notices.cold("north"));
        for (Notice notice : new Notice[] {first, second, third, first}) {
            assertInstanceOf(Delivery.Delivered.class, channel.deliver(notice, Notices.KEEPER));
        }
        String firstId = received(0).getMessageID();
        assertTrue(firstId.matches("<" + first.id() + "\\.[0-9a-f]{8}@example\\.net>"), firstId);
        assertNull(received(0).getHeader("In-Reply-To"));
        for (int i = 1; i <= 2; i++) {
            assertEquals(firstId, header(received(i), "In-Reply-To"));
            assertEquals(firstId, header(received(i), "References"));
            assertNotEquals(firstId, received(i).getMessageID());
        }
        assertEquals(firstId, received(3).getMessageID());
        assertNull(received(2).getHeader("Importance"), "an all-clear wakes nobody");
    }

    /** RFC 5321 s.4.2.1: 4yz is transient. RFC 6647 s.2.1: greylisting answers 451 at first. */
    @Test
    void aGreylistingServerIsTriedAgainAndThenTakesIt() {
        front.recipientAnswers.add("451 4.7.1 Greylisted, come back later");
        MailChannel channel = channel();
        Delivery first = channel.deliver(Notices.first("e1"), Notices.KEEPER);
        assertInstanceOf(Delivery.TryAgain.class, first);
        assertEquals(
                "the mail server says not now (451 4.7.1 Greylisted, come back later)",
                first.words());
        assertInstanceOf(
                Delivery.Delivered.class, channel.deliver(Notices.first("e1"), Notices.KEEPER));
        assertEquals(1, server.getReceivedMessages().length);
    }

    /** RFC 5321 s.4.2.1: 5yz is permanent. */
    @Test
    void anAddressThatTheServerDoesNotKnowIsRefusedForGood() {
        front.recipientAnswers.add("550 5.1.1 No such user here");
        Delivery delivery = channel().deliver(Notices.first("e1"), Notices.KEEPER);
        assertInstanceOf(Delivery.Refused.class, delivery);
        assertEquals("the mail server refuses it (550 5.1.1 No such user here)", delivery.words());
        assertInstanceOf(
                Delivery.Refused.class,
                channel().deliver(Notices.first("e1"), new Recipient("nobody", Optional.empty())));
    }

    @Test
    void aWrongPasswordWaitsForAPersonAndIsNotSaid() {
        MailChannel channel =
                new MailChannel("mail", to(front.port(), "localhost", "wrong-password"));
        Delivery delivery = channel.deliver(Notices.first("e1"), Notices.KEEPER);
        Delivery.TryAgain again = assertInstanceOf(Delivery.TryAgain.class, delivery);
        assertTrue(again.words().contains("refuses user or password (535"), again.words());
        assertFalse(again.words().contains("wrong-password"), again.words());
        assertEquals(Duration.ofMinutes(5), again.notBefore());
        assertEquals(0, server.getReceivedMessages().length);
    }

    @Test
    void aServerThatIsDownIsTriedAgain() throws IOException {
        int port = front.port();
        front.close();
        Delivery delivery =
                new MailChannel("mail", to(port, "localhost", PASSWORD))
                        .deliver(Notices.first("e1"), Notices.KEEPER);
        assertInstanceOf(Delivery.TryAgain.class, delivery);
        assertTrue(delivery.words().contains("can't be reached"), delivery.words());
    }

    @Test
    void aServerThatHangsIsGivenUpInTime() {
        limit = Duration.ofSeconds(2);
        front.silentMillis.set(60_000);
        MonotonicClock clock = SystemClock.monotonic();
        long began = clock.nanos();
        Delivery delivery = channel().deliver(Notices.first("e1"), Notices.KEEPER);
        assertInstanceOf(Delivery.TryAgain.class, delivery);
        long millis = (clock.nanos() - began) / 1_000_000;
        assertTrue(millis >= 1900 && millis < 10_000, millis + " ms with a limit of 2 s");
    }

    /** RFC 3207 s.6: a middleman can take the offer away; then nothing must be said. */
    @Test
    void withoutStarttlsNoPasswordAndNoNoticeIsSaid() {
        front.offersTls = false;
        Delivery delivery = channel().deliver(Notices.first("e1"), Notices.KEEPER);
        assertInstanceOf(Delivery.TryAgain.class, delivery);
        assertTrue(
                front.saidInTheClear.stream().allMatch(l -> l.matches("EHLO .*|STARTTLS|QUIT")),
                front.saidInTheClear.toString());
    }

    /** RFC 6125 s.6.4: the certificate must be for the host that was meant, by a known signer. */
    @Test
    void aCertificateOfAnotherHostOrAnUnknownSignerIsNotBelieved(@TempDir Path folder)
            throws IOException {
        TestCertificate other = TestCertificate.forHost("mail.example.org");
        try (MailFront wrong = new MailFront(server.getSmtp().getPort(), other.serverContext())) {
            for (TrustedRoots believed :
                    new TrustedRoots[] {other.trusted(folder), TrustedRoots.usual(), roots}) {
                MailServer target =
                        new MailServer(
                                "localhost",
                                wrong.port(),
                                MailServer.Security.STARTTLS,
                                Optional.of(new MailServer.Login("evenwarm", new Secret(PASSWORD))),
                                "evenwarm@example.net",
                                believed,
                                limit);
                Delivery delivery =
                        new MailChannel("mail", target)
                                .deliver(Notices.first("e1"), Notices.KEEPER);
                Delivery.TryAgain again = assertInstanceOf(Delivery.TryAgain.class, delivery);
                assertTrue(again.words().startsWith("no private way"), again.words());
                assertEquals(Duration.ofMinutes(5), again.notBefore());
            }
            assertEquals(0, server.getReceivedMessages().length);
        }
    }

    @Test
    void onlyAnAddressIsAnAddress() {
        assertEquals("a.b+c@example.org", MailChannel.requireAddress("a.b+c@example.org"));
        for (String text :
                new String[] {
                    "keeper",
                    "@example.org",
                    "a@b\r\nBcc: c@d",
                    "A B <a@example.org>",
                    "a@b, c@d",
                    ""
                }) {
            assertThrows(
                    IllegalArgumentException.class, () -> MailChannel.requireAddress(text), text);
        }
    }

    @Test
    void noticesThatFollowEachOtherShareAConnectionUntilNothingWaits() {
        try (MailChannel channel = channel()) {
            deliver(channel, "e1", "e2", "e3");
            assertEquals(1, front.connections.get());
            channel.rest();
            deliver(channel, "e4");
            assertEquals(2, front.connections.get());
        }
        assertEquals(4, server.getReceivedMessages().length);
    }

    @Test
    void aServerThatTakesOneMailByAConnectionGetsThemAll() {
        front.mailsEach = 1;
        try (MailChannel channel = channel()) {
            deliver(channel, "e1", "e2", "e3");
        }
        assertEquals(3, server.getReceivedMessages().length);
        assertEquals(3, front.connections.get());
    }

    private static void deliver(MailChannel channel, String... events) {
        for (String event : events) {
            assertInstanceOf(
                    Delivery.Delivered.class,
                    channel.deliver(Notices.first(event), Notices.KEEPER));
        }
    }
}
