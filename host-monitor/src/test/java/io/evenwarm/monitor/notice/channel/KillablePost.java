package io.evenwarm.monitor.notice.channel;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeJson;
import io.evenwarm.testing.Programs;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.jspecify.annotations.Nullable;

/**
 * A real mail server and a real broker, each in a process of its own that can be killed and started
 * again, and what came to them. Needs the broker's program and socat.
 *
 * <p>Nobody reaches the broker unless the test listens there already: else what it takes and gives
 * to nobody would count as lost.
 */
public final class KillablePost implements AutoCloseable {

    private static final String ADDRESS = "anna@example.org";
    private static final String TOPIC = "house/eggs";
    private static final int SECONDS_MAX = 60;

    private final Path folder;
    private final Programs programs;
    private final Path keys;
    private final Path mails;
    private final int mailPort = Programs.freePort();
    private final int brokerPort = Programs.freePort();
    private final Mosquitto broker;
    private final List<Arrived> published = new CopyOnWriteArrayList<>();
    private @Nullable Process mail;
    private @Nullable Process door;
    private @Nullable MqttClient listener;

    /** A mail as it was taken. */
    public record Mail(Instant at, String id, String subject, String body) {}

    /** A notice that the broker gave to who listens. */
    public record Arrived(Instant at, Notice notice) {}

    /**
     * Starts both.
     *
     * @param folder of its own
     */
    public KillablePost(Path folder) throws IOException, MqttException {
        this.folder = Files.createDirectories(folder);
        programs = new Programs(folder);
        TestCertificate certificate = TestCertificate.forHost("localhost");
        keys = certificate.save(folder.resolve("mail.p12"));
        certificate.writeCertificate(folder.resolve("roots.pem"));
        mails = Files.createFile(folder.resolve("mails.txt"));
        broker =
                new Mosquitto(
                        Files.createDirectories(folder.resolve("broker")), "allow_anonymous true");
        startMail();
        startBroker();
        awaitMail();
    }

    /** What a monitor's settings say of both channels and of the person. */
    public String settings() {
        return """
                [[channel]]
                name = "post"
                kind = "mail"
                host = "localhost"
                port = %d
                from = "eggs@example.net"
                authority_file = "%s"
                limit_seconds = 5
                [[channel]]
                name = "broker"
                kind = "mqtt"
                host = "127.0.0.1"
                port = %d
                tls = false
                topic = "%s"
                limit_seconds = 5
                [[person]]
                name = "anna"
                mail = "%s"
                channels = ["post", "broker"]
                answer_minutes = 1440
                [notices]
                again_minutes = 1440
                """
                .formatted(mailPort, folder.resolve("roots.pem"), brokerPort, TOPIC, ADDRESS);
    }

    public void killMail() {
        Programs.kill(mail);
    }

    /** Returns at once; it answers a second or two later. */
    public void startMail() throws IOException {
        mail =
                programs.startJava(
                        "mail",
                        MailProcess.class,
                        Integer.toString(mailPort),
                        keys.toString(),
                        mails.toString(),
                        ADDRESS);
    }

    private void awaitMail() {
        Waiting.until(SECONDS_MAX, this::answers, () -> programs.said("mail"));
    }

    private boolean answers() {
        try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), mailPort)) {
            return socket.isConnected();
        } catch (IOException e) {
            return false;
        }
    }

    /** Kills the broker, and who listens there hears no more. */
    public void killBroker() throws MqttException {
        broker.kill();
        Programs.kill(door);
        MqttClient there = listener;
        listener = null;
        if (there != null) {
            there.disconnectForcibly(0, 1, false);
            there.close(true);
        }
    }

    /** Starts the broker, listens there, and opens it for others. */
    public void startBroker() throws IOException, MqttException {
        broker.start();
        MqttClient made =
                new MqttClient(
                        "tcp://127.0.0.1:" + broker.port(), "listener", new MemoryPersistence());
        made.connect();
        made.subscribe(
                TOPIC + "/notice",
                1,
                (topic, message) ->
                        published.add(
                                new Arrived(
                                        SystemClock.wall().now(),
                                        NoticeJson.parse(
                                                new String(
                                                        message.getPayload(),
                                                        StandardCharsets.UTF_8)))));
        listener = made;
        door =
                programs.start(
                        "door",
                        "socat",
                        "TCP-LISTEN:" + brokerPort + ",bind=127.0.0.1,fork,reuseaddr",
                        "TCP:127.0.0.1:" + broker.port());
    }

    /** All mail that was taken so far, in order. */
    public List<Mail> mails() throws IOException {
        List<Mail> all = new ArrayList<>();
        String whole = Files.readString(mails);
        // The server may just be writing the last line, or have been killed in the middle of it.
        for (String line : whole.substring(0, whole.lastIndexOf('\n') + 1).lines().toList()) {
            String[] parts = line.split("\t", -1);
            if (parts.length == 4) {
                all.add(
                        new Mail(
                                Instant.ofEpochMilli(Long.parseLong(parts[0])),
                                parts[1],
                                decoded(parts[2]),
                                decoded(parts[3])));
            }
        }
        return all;
    }

    private static String decoded(String text) {
        return new String(Base64.getDecoder().decode(text), StandardCharsets.UTF_8);
    }

    /** All that came by the broker so far, in order. */
    public List<Arrived> published() {
        return List.copyOf(published);
    }

    @Override
    public void close() throws MqttException {
        killMail();
        killBroker();
        programs.close();
    }
}
