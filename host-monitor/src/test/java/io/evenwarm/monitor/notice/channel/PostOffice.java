package io.evenwarm.monitor.notice.channel;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import io.evenwarm.monitor.notice.Channel;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeJson;
import io.evenwarm.monitor.notice.Secret;
import jakarta.mail.MessagingException;
import jakarta.mail.internet.MimeMessage;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;

/**
 * A real mail server and a real broker that take notices, and what came to them. Needs the broker's
 * program: see {@link NeedsMosquitto}.
 */
public final class PostOffice implements AutoCloseable {

    public static final String MAIL = "mail";
    public static final String BROKER = "broker";

    private static final String PASSWORD = "a password";
    private static final String TOPIC = "house/eggs";
    private static final Duration LIMIT = Duration.ofSeconds(30);

    private final GreenMail mailServer =
            new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
    private final MailFront front;
    private final Mosquitto broker;
    private final MqttClient listener;
    private final MqttChannel mqtt;
    private final MailChannel mail;
    private final List<String> published = new CopyOnWriteArrayList<>();

    /**
     * @param folder of its own
     * @param address whose mail is taken
     */
    public PostOffice(Path folder, String address) throws IOException, MqttException {
        TestCertificate certificate = TestCertificate.forHost("localhost");
        mailServer.start();
        mailServer.setUser(address, "evenwarm", PASSWORD);
        front = new MailFront(mailServer.getSmtp().getPort(), certificate.serverContext());
        mail =
                new MailChannel(
                        MAIL,
                        new MailServer(
                                "localhost",
                                front.port(),
                                MailServer.Security.STARTTLS,
                                Optional.of(new MailServer.Login("evenwarm", new Secret(PASSWORD))),
                                "evenwarm@example.net",
                                certificate.trusted(folder),
                                LIMIT));
        broker =
                new Mosquitto(
                                Files.createDirectories(folder.resolve("broker")),
                                "allow_anonymous true")
                        .start();
        listener =
                new MqttClient(
                        "tcp://127.0.0.1:" + broker.port(), "listener", new MemoryPersistence());
        listener.connect();
        listener.subscribe(
                TOPIC + "/notice",
                1,
                (topic, message) ->
                        published.add(new String(message.getPayload(), StandardCharsets.UTF_8)));
        mqtt =
                MqttChannel.start(
                        BROKER,
                        new MqttBroker(
                                "127.0.0.1",
                                broker.port(),
                                Optional.empty(),
                                Optional.empty(),
                                TOPIC,
                                LIMIT),
                        Duration.ofMillis(200));
    }

    /** By which notices get here. */
    public List<Channel> channels() {
        return List.of(mail, mqtt);
    }

    /** The ids of the notices that came by mail, in order. */
    public List<String> mailedIds() throws MessagingException {
        List<String> ids = new ArrayList<>();
        for (MimeMessage message : mailServer.getReceivedMessages()) {
            ids.add(message.getMessageID());
        }
        return ids;
    }

    /** The notices that came by the broker, in order. */
    public List<Notice> published() {
        return published.stream().map(NoticeJson::parse).toList();
    }

    @Override
    public void close() throws IOException, MqttException {
        mqtt.close();
        mail.close();
        listener.disconnectForcibly(0, 100, false);
        listener.close(true);
        broker.close();
        front.close();
        mailServer.stop();
    }
}
