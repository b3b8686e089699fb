package io.evenwarm.link;

import static java.nio.charset.StandardCharsets.US_ASCII;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.Message;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.security.GeneralSecurityException;
import java.security.SecureRandom;
import java.security.cert.X509Certificate;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import javax.net.ssl.KeyManager;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLServerSocket;
import javax.net.ssl.SSLSocket;
import javax.net.ssl.TrustManager;
import javax.net.ssl.X509TrustManager;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/** Whom TLS links let in, whom they don't, and the words for it. */
@Timeout(60)
final class TlsRefusalTest {

    private static final Duration SOON = Duration.ofSeconds(20);
    private static final Duration HANDSHAKE_MAX = Duration.ofMillis(1500);
    private static final Identity AGENT = Identity.create("agent");
    private static final Identity MONITOR = Identity.create("monitor");
    private static final Identity STRANGER = Identity.create("stranger");

    private TlsListener listener;

    @BeforeEach
    void listen() throws LinkException {
        listener = TlsLinks.listen(anyPort(), AGENT, Set.of(MONITOR.pin()), HANDSHAKE_MAX);
    }

    @AfterEach
    void close() {
        listener.close();
    }

    @Test
    void bothSidesKnowWhomTheyTalkTo() throws LinkException {
        try (Link near = TlsLinks.connect(address(), MONITOR, AGENT.pin(), SOON);
                Link far = listener.accept()) {
            assertTrue(near.peer().contains(AGENT.pin().toString()), near.peer());
            assertTrue(far.peer().contains(MONITOR.pin().toString()), far.peer());
            assertEquals(0, listener.refusals());
        }
    }

    @Test
    void aListenerWithAnotherKeyIsRefusedByItsKey() throws InterruptedException {
        LinkException refusal =
                refused(() -> TlsLinks.connect(address(), MONITOR, STRANGER.pin(), SOON));
        assertContains(refusal, "its key " + AGENT.pin() + " is not among the trusted keys");
        assertTrue(lastRefusal().contains("does not trust this program's key"), lastRefusal());
    }

    @Test
    void aStrangerIsToldThatItsKeyIsNotTrustedAndWhichItIs() throws InterruptedException {
        LinkException refusal =
                refused(() -> TlsLinks.connect(address(), STRANGER, AGENT.pin(), SOON));
        assertContains(refusal, "it does not trust this program's key");
        assertContains(refusal, STRANGER.pin().toString());
        assertTrue(
                lastRefusal()
                        .contains("its key " + STRANGER.pin() + " is not among the trusted keys"),
                lastRefusal());
    }

    @Test
    void whoShowsNoKeyIsRefused() throws Exception {
        try (SSLSocket socket = anyTrust("TLSv1.3", address())) {
            assertThrows(
                    IOException.class,
                    () -> {
                        socket.startHandshake();
                        endOfStream(socket);
                    });
        }
        assertTrue(lastRefusal().contains("a key was asked for and none was shown"), lastRefusal());
    }

    @Test
    void tls12IsRefusedByTheListener() throws Exception {
        try (SSLSocket socket = anyTrust("TLSv1.2", address())) {
            assertThrows(IOException.class, socket::startHandshake);
        }
        assertTrue(lastRefusal().contains("it does not speak TLS 1.3"), lastRefusal());
    }

    @Test
    void aListenerThatSpeaksOnlyTls12IsRefused() throws Exception {
        SSLContext context = PinnedTls.context(AGENT, MONITOR.pin()::equals);
        try (SSLServerSocket old =
                (SSLServerSocket)
                        context.getServerSocketFactory()
                                .createServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            old.setEnabledProtocols(new String[] {"TLSv1.2"});
            CompletableFuture<Boolean> shakesHands =
                    CompletableFuture.supplyAsync(
                            () -> {
                                try (SSLSocket socket = (SSLSocket) old.accept()) {
                                    socket.startHandshake();
                                    return true;
                                } catch (IOException e) {
                                    return false;
                                }
                            });
            LinkException refusal =
                    refused(
                            () ->
                                    TlsLinks.connect(
                                            at(old.getLocalPort()), MONITOR, AGENT.pin(), SOON));
            assertContains(refusal, "it does not speak TLS 1.3");
            assertFalse(shakesHands.get(20, TimeUnit.SECONDS));
        }
    }

    @Test
    void whoDoesNotSpeakTlsIsRefused() throws Exception {
        try (Socket plain = new Socket(InetAddress.getLoopbackAddress(), listener.port())) {
            plain.getOutputStream().write("hello, is somebody there?\r\n\r\n".getBytes(US_ASCII));
            assertTrue(lastRefusal().contains("it does not speak TLS"), lastRefusal());
        }
    }

    @Test
    void whoConnectsAndSaysNothingHoldsUpNobodyAndIsSentAwayInTime() throws Exception {
        List<Socket> silent = new ArrayList<>();
        for (int i = 0; i < 3 * TlsListener.HANDSHAKES_MAX; i++) {
            silent.add(new Socket(InetAddress.getLoopbackAddress(), listener.port()));
        }
        try (Link near = TlsLinks.connect(address(), MONITOR, AGENT.pin(), SOON);
                Link far = listener.accept()) {
            near.send(new Message.KeepAlive());
            assertEquals(Optional.of(new Message.KeepAlive()), far.receive(SOON));
        }
        for (Socket socket : silent) {
            socket.setSoTimeout(20_000);
            assertEquals(-1, endOfStream(socket));
            socket.close();
        }
        assertTrue(lastRefusal().contains("took too long"), lastRefusal());
    }

    @Test
    void aListenerThatSaysNothingRunsOutOfTime() throws IOException {
        try (ServerSocket silent = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            LinkException late =
                    refused(
                            () ->
                                    TlsLinks.connect(
                                            at(silent.getLocalPort()),
                                            MONITOR,
                                            AGENT.pin(),
                                            Duration.ofMillis(200)));
            assertContains(late, "did not answer within 200 ms");
        }
    }

    @Test
    void nobodyThereAndNoSuchNameHaveWords() {
        int free = listener.port();
        listener.close();
        assertContains(
                refused(() -> TlsLinks.connect(at(free), MONITOR, AGENT.pin(), SOON)),
                "nothing listens at");
        InetSocketAddress nameless = InetSocketAddress.createUnresolved("no.such.invalid", 1);
        assertContains(
                refused(() -> TlsLinks.connect(nameless, MONITOR, AGENT.pin(), SOON)),
                "has no address");
        assertContains(refused(() -> TlsLinks.listen(nameless, AGENT, Set.of())), "has no address");
    }

    @Test
    void aTakenPortHasWords() {
        LinkException taken = refused(() -> TlsLinks.listen(address(), AGENT, Set.of()));
        assertContains(taken, "the port is taken");
    }

    @Test
    void datesInCertificatesAreNotJudged() throws LinkException {
        Instant longAgo = Instant.parse("1975-01-01T00:00:00Z");
        Identity expired = Identity.create("expired", longAgo, longAgo.plusSeconds(1));
        Instant farOff = Instant.parse("2150-01-01T00:00:00Z");
        Identity notYet = Identity.create("not yet", farOff, farOff.plusSeconds(1));
        try (TlsListener old = TlsLinks.listen(anyPort(), expired, Set.of(notYet.pin()));
                Link near = TlsLinks.connect(at(old.port()), notYet, expired.pin(), SOON);
                Link far = old.accept()) {
            near.send(new Message.KeepAlive());
            assertEquals(Optional.of(new Message.KeepAlive()), far.receive(SOON));
        }
    }

    @Test
    void closingTheListenerFreesWhoWaitsAtItAndLeavesAcceptedLinksAlive() throws Exception {
        try (Link near = TlsLinks.connect(address(), MONITOR, AGENT.pin(), SOON);
                Link far = listener.accept()) {
            CompletableFuture<LinkException> waits =
                    CompletableFuture.supplyAsync(() -> refused(() -> listener.accept()));
            TimeUnit.MILLISECONDS.sleep(50);
            listener.close();
            assertContains(waits.get(20, TimeUnit.SECONDS), "is closed");
            near.send(new Message.KeepAlive());
            assertEquals(Optional.of(new Message.KeepAlive()), far.receive(SOON));
        }
    }

    @Test
    void linksThatNobodyAcceptsDoNotPileUp() throws Exception {
        List<Link> links = new ArrayList<>();
        for (int i = 0; i < TlsListener.WAITING_MAX; i++) {
            links.add(TlsLinks.connect(address(), MONITOR, AGENT.pin(), SOON));
        }
        refused(
                () -> {
                    try (Link one = TlsLinks.connect(address(), MONITOR, AGENT.pin(), SOON)) {
                        one.receive(SOON);
                    }
                });
        assertTrue(lastRefusal().contains("too many links wait"), lastRefusal());
        links.forEach(Link::close);
    }

    @FunctionalInterface
    private interface Attempt {
        void run() throws LinkException;
    }

    private static LinkException refused(Attempt attempt) {
        return assertThrows(LinkException.class, attempt::run);
    }

    /** The listener's side may be told a moment later than the other. */
    private String lastRefusal() throws InterruptedException {
        for (int i = 0; i < 2_000 && listener.refusals() == 0; i++) {
            TimeUnit.MILLISECONDS.sleep(5);
        }
        return listener.lastRefusal().orElse("nobody was refused");
    }

    private static void assertContains(LinkException e, String words) {
        assertTrue(String.valueOf(e.getMessage()).contains(words), e.getMessage());
    }

    private static InetSocketAddress anyPort() {
        return at(0);
    }

    private static InetSocketAddress at(int port) {
        return new InetSocketAddress(InetAddress.getLoopbackAddress(), port);
    }

    private InetSocketAddress address() {
        return at(listener.port());
    }

    private static int endOfStream(Socket socket) throws IOException {
        return socket.getInputStream().read();
    }

    /** A program that trusts everybody, shows no key, and speaks one version of TLS. */
    private static SSLSocket anyTrust(String version, InetSocketAddress to)
            throws GeneralSecurityException, IOException {
        SSLContext context = SSLContext.getInstance("TLS");
        context.init(
                new KeyManager[0], new TrustManager[] {new TrustEverybody()}, new SecureRandom());
        SSLSocket socket =
                (SSLSocket) context.getSocketFactory().createSocket(to.getAddress(), to.getPort());
        socket.setEnabledProtocols(new String[] {version});
        return socket;
    }

    private static final class TrustEverybody implements X509TrustManager {
        @Override
        public void checkClientTrusted(X509Certificate[] chain, String type) {
            // Trusted.
        }

        @Override
        public void checkServerTrusted(X509Certificate[] chain, String type) {
            // Trusted.
        }

        @Override
        public X509Certificate[] getAcceptedIssuers() {
            return new X509Certificate[0];
        }
    }
}
