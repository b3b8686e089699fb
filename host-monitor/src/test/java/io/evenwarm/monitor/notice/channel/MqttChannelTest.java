package io.evenwarm.monitor.notice.channel;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.json.JsonMapper;
import io.evenwarm.monitor.notice.Delivery;
import io.evenwarm.monitor.notice.NoticeJson;
import io.evenwarm.monitor.notice.NoticeKind;
import io.evenwarm.monitor.notice.Notices;
import io.evenwarm.monitor.notice.Secret;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicReference;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** MQTT, by a real broker. Clauses are those of MQTT 3.1.1 (OASIS). */
@NeedsMosquitto
final class MqttChannelTest {

    private static final Duration AGAIN = Duration.ofMillis(200);

    private final Path folder;
    private final List<AutoCloseable> open = new CopyOnWriteArrayList<>();

    /** Generous, so that a busy machine fails no test; short only where the limit is the matter. */
    private Duration limit = Duration.ofSeconds(30);

    MqttChannelTest(@TempDir Path folder) {
        this.folder = folder;
    }

    @AfterEach
    void close() throws Exception {
        for (int i = open.size() - 1; i >= 0; i--) {
            open.get(i).close();
        }
    }

    private Mosquitto broker(String... settings) throws IOException {
        Mosquitto broker = new Mosquitto(folder, settings).start();
        open.add(broker);
        return broker;
    }

    private MqttChannel channel(MqttBroker broker) {
        MqttChannel channel = MqttChannel.start("broker", broker, AGAIN);
        open.add(channel);
        return channel;
    }

    private MqttBroker plain(int port) {
        return new MqttBroker(
                "127.0.0.1", port, Optional.empty(), Optional.empty(), "house/eggs", limit);
    }

    /** Somebody who listens: the newest of each topic, and all of them in order. */
    private static final class Listener implements AutoCloseable {

        final Map<String, String> newest = new ConcurrentHashMap<>();
        final List<String> notices = new CopyOnWriteArrayList<>();
        private final MqttClient client;

        Listener(int port) throws MqttException {
            client = new MqttClient("tcp://127.0.0.1:" + port, "listener", new MemoryPersistence());
            client.connect();
            client.subscribe(
                    "house/eggs/#",
                    1,
                    (topic, message) -> {
                        String text = new String(message.getPayload(), StandardCharsets.UTF_8);
                        newest.put(topic, text);
                        if (topic.equals("house/eggs/notice")) {
                            notices.add(text);
                        }
                    });
        }

        void await(String topic, String value) {
            Waiting.until(
                    15,
                    () -> value.equals(newest.get(topic)),
                    () -> topic + " was " + newest.get(topic) + " and not " + value);
        }

        @Override
        public void close() throws MqttException {
            client.disconnectForcibly(0, 100, false);
            client.close(true);
        }
    }

    private Listener listener(Mosquitto broker) throws MqttException {
        Listener listener = new Listener(broker.port());
        open.add(listener);
        return listener;
    }

    @Test
    void aNoticeIsPublishedAndEachCabinetsStateIsKeptForWhoComesLater() throws Exception {
        Mosquitto broker = broker("allow_anonymous true");
        MqttChannel channel = channel(plain(broker.port()));
        Listener there = listener(broker);
        assertEquals(
                new Delivery.Delivered("the broker acknowledged it"),
                channel.deliver(
                        Notices.of(
                                "e1",
                                1,
                                NoticeKind.FIRST,
                                Notices.cold("north"),
                                Notices.cold("a/+#%b")),
                        Notices.KEEPER));
        Waiting.until(10, () -> there.notices.size() == 1, () -> "no notice came");
        assertTrue(there.notices.get(0).contains("\"person\":\"keeper\""));
        assertEquals("e1", NoticeJson.parse(there.notices.get(0)).eventId());
        channel.deliver(
                Notices.of("e1", 2, NoticeKind.ALL_CLEAR, Notices.cold("north")), Notices.KEEPER);
        channel.deliver(
                Notices.of("e2", 1, NoticeKind.DRILL, Notices.cold("north")), Notices.KEEPER);
        Waiting.until(10, () -> there.notices.size() == 3, () -> there.notices.toString());
        // 3.3.1.3: who subscribes later gets what is retained, and no notice of yesterday.
        Listener later = listenerLater(broker);
        later.await("house/eggs/status", "online");
        Waiting.until(10, () -> later.newest.size() == 3, () -> later.newest.toString());
        assertEquals(
                "clear",
                JsonMapper.builder()
                        .build()
                        .readTree(later.newest.get("house/eggs/cabinet/north"))
                        .get("state")
                        .asText(),
                "a drill changes no cabinet's state");
        assertEquals(
                "alarm",
                JsonMapper.builder()
                        .build()
                        .readTree(later.newest.get("house/eggs/cabinet/a%2F%2B%23%25b"))
                        .get("state")
                        .asText());
        assertEquals(List.of(), later.notices);
    }

    private Listener listenerLater(Mosquitto broker) throws MqttException {
        open.stream()
                .filter(Listener.class::isInstance)
                .map(Listener.class::cast)
                .forEach(
                        listener -> {
                            try {
                                listener.close();
                            } catch (MqttException e) {
                                throw new AssertionError(e);
                            }
                        });
        open.removeIf(Listener.class::isInstance);
        return listener(broker);
    }

    /** 3.1.2.5: the will goes out when a connection ends without a goodbye; else it does not. */
    @Test
    void whoListensHearsOfADeadMonitorByItsLastWillAndOfAClosedOneByItsGoodbye() throws Exception {
        Mosquitto broker = broker("allow_anonymous true");
        try (Relay relay = new Relay(broker.port())) {
            MqttChannel channel = channel(plain(relay.port()));
            Listener there = listener(broker);
            there.await("house/eggs/status", "online");
            relay.isCut = true;
            relay.cut();
            there.await("house/eggs/status", "offline");
            relay.isCut = false;
            there.await("house/eggs/status", "online");
            channel.close();
            there.await("house/eggs/status", "offline");
        }
    }

    @Test
    void aBrokerThatDropsAndComesBackGetsTheNoticeAndTheStatus() throws Exception {
        Mosquitto broker = broker("allow_anonymous true");
        MqttChannel channel = channel(plain(broker.port()));
        assertInstanceOf(
                Delivery.Delivered.class, channel.deliver(Notices.first("e1"), Notices.KEEPER));
        broker.kill();
        Delivery down = channel.deliver(Notices.first("e2"), Notices.KEEPER);
        assertInstanceOf(Delivery.TryAgain.class, down);
        assertTrue(down.words().startsWith("no word from the broker ("), down.words());
        broker.start();
        Listener there = listener(broker);
        // By itself, without a notice to deliver.
        there.await("house/eggs/status", "online");
        assertInstanceOf(
                Delivery.Delivered.class, channel.deliver(Notices.first("e2"), Notices.KEEPER));
        Waiting.until(10, () -> there.notices.size() == 1, () -> "no notice came");
    }

    @Test
    void aBrokerThatIsThereButSilentIsGivenUpInTime() throws Exception {
        try (ServerSocket silent = new ServerSocket(0, 5, InetAddress.getLoopbackAddress())) {
            limit = Duration.ofSeconds(2);
            MqttChannel channel = channel(plain(silent.getLocalPort()));
            AtomicReference<Delivery> delivery = new AtomicReference<>();
            Thread thread =
                    new Thread(
                            () ->
                                    delivery.set(
                                            channel.deliver(Notices.first("e1"), Notices.KEEPER)));
            thread.start();
            thread.join(30_000);
            assertInstanceOf(Delivery.TryAgain.class, delivery.get());
        }
    }

    @Test
    void passwordAndCertificateAreCheckedBothWays() throws Exception {
        TestCertificate certificate = TestCertificate.forHost("localhost");
        Path passwords = folder.resolve("passwords");
        Process made =
                new ProcessBuilder(
                                "mosquitto_passwd",
                                "-b",
                                "-c",
                                passwords.toString(),
                                "eggs",
                                "s3cret pass")
                        .redirectErrorStream(true)
                        .start();
        assertEquals(0, made.waitFor());
        Mosquitto broker =
                broker(
                        "allow_anonymous false",
                        "password_file " + passwords,
                        "certfile " + certificate.writeCertificate(folder.resolve("server.pem")),
                        "keyfile " + certificate.writeKey(folder.resolve("server.key")));
        TrustedRoots roots = certificate.trusted(folder);
        assertInstanceOf(
                Delivery.Delivered.class,
                channel(tls(broker, "localhost", roots, "s3cret pass"))
                        .deliver(Notices.first("e1"), Notices.KEEPER));
        Delivery.TryAgain refused =
                assertInstanceOf(
                        Delivery.TryAgain.class,
                        channel(tls(broker, "localhost", roots, "wrong-password"))
                                .deliver(Notices.first("e1"), Notices.KEEPER));
        assertTrue(refused.words().startsWith("the broker refuses user"), refused.words());
        assertEquals(Duration.ofMinutes(5), refused.notBefore());
        // RFC 6125 s.6.4: a certificate for another host, and one of an unknown signer.
        for (MqttBroker wrong :
                List.of(
                        tls(broker, "127.0.0.1", roots, "s3cret pass"),
                        tls(broker, "localhost", TrustedRoots.usual(), "s3cret pass"))) {
            assertInstanceOf(
                    Delivery.TryAgain.class,
                    channel(wrong).deliver(Notices.first("e1"), Notices.KEEPER));
        }
    }

    private static MqttBroker tls(
            Mosquitto broker, String host, TrustedRoots roots, String password) {
        return new MqttBroker(
                host,
                broker.port(),
                Optional.of(roots),
                Optional.of(new MqttBroker.Login("eggs", new Secret(password))),
                "house/eggs",
                Duration.ofSeconds(5));
    }

    /** 4.7.1 and 4.7.2. */
    @Test
    void aTopicWithWildcardsIsNone() {
        assertEquals("house/eggs", MqttBroker.requireTopic("house/eggs"));
        for (String text : List.of("", "/a", "a/", "a//b", "a/#", "+", "$SYS/a", "a\u0000b")) {
            assertThrows(IllegalArgumentException.class, () -> MqttBroker.requireTopic(text), text);
        }
    }

    /** A cable between channel and broker that can be cut: no goodbye comes through. */
    private static final class Relay implements AutoCloseable {

        private final ServerSocket listening;
        private final int behind;
        private final ExecutorService threads = Executors.newCachedThreadPool();
        private final List<Socket> sockets = new CopyOnWriteArrayList<>();
        volatile boolean isCut;

        Relay(int behind) throws IOException {
            this.behind = behind;
            listening = new ServerSocket(0, 5, InetAddress.getLoopbackAddress());
            Future<?> unused = threads.submit(this::accept);
        }

        int port() {
            return listening.getLocalPort();
        }

        private void accept() {
            while (!listening.isClosed()) {
                try {
                    Socket near = listening.accept();
                    if (isCut) {
                        near.close();
                        continue;
                    }
                    Socket far = new Socket(InetAddress.getLoopbackAddress(), behind);
                    sockets.add(near);
                    sockets.add(far);
                    Future<?> unusedUp = threads.submit(() -> copy(near, far));
                    Future<?> unusedDown = threads.submit(() -> copy(far, near));
                } catch (IOException e) {
                    return;
                }
            }
        }

        private static void copy(Socket from, Socket to) {
            try (InputStream in = from.getInputStream();
                    OutputStream out = to.getOutputStream()) {
                in.transferTo(out);
            } catch (IOException e) {
                // Cut.
            }
        }

        void cut() throws IOException {
            for (Socket socket : sockets) {
                socket.close();
            }
        }

        @Override
        public void close() throws IOException {
            listening.close();
            cut();
            threads.shutdownNow();
        }
    }
}
