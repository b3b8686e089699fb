package io.evenwarm.monitor.notice.channel;

import com.fasterxml.jackson.databind.node.ObjectNode;
import io.evenwarm.monitor.notice.CabinetFacts;
import io.evenwarm.monitor.notice.Channel;
import io.evenwarm.monitor.notice.Delivery;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticeJson;
import io.evenwarm.monitor.notice.NoticeKind;
import io.evenwarm.monitor.notice.PlainLine;
import io.evenwarm.monitor.notice.Recipient;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.Locale;
import java.util.UUID;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.jspecify.annotations.Nullable;

/**
 * Publishes notices at a broker, everything with QoS 1 (at least once, MQTT 3.1.1, 4.3.2).
 *
 * <ul>
 *   <li>{@code TOPIC/status}, retained: {@code online}, or {@code offline} by goodbye or last will
 *       (3.1.2.5): whoever listens hears of a monitor that died
 *   <li>{@code TOPIC/cabinet/NAME}, retained: what was last said of a cabinet
 *   <li>{@code TOPIC/notice}: each notice
 * </ul>
 *
 * <p>Stays connected, since a last will is only that of a connection: a thread of its own connects
 * again every few seconds. Connecting and publishing take turns on one lock; each ends in time.
 */
public final class MqttChannel implements Channel {

    /** The broker sends the will after one and a half of it (3.1.2.10, MQTT-3.1.2-24). */
    private static final int KEEP_ALIVE_SECONDS = 20;

    private static final int QOS = 1;

    /** What only a person can mend. */
    private static final Duration SETTINGS_PAUSE = Duration.ofMinutes(5);

    /** Ids of up to 23 letters and digits are what every broker takes (MQTT-3.1.3-5). */
    private static final int ID_RANDOM_DIGITS = 12;

    private static final byte[] ONLINE = "online".getBytes(StandardCharsets.US_ASCII);
    private static final byte[] OFFLINE = "offline".getBytes(StandardCharsets.US_ASCII);
    private static final int WORDS_MAX = 200;
    private static final System.Logger LOG = System.getLogger(MqttChannel.class.getName());

    private final String name;
    private final MqttBroker broker;
    private final String clientId =
            "evenwarm"
                    + UUID.randomUUID().toString().replace("-", "").substring(0, ID_RANDOM_DIGITS);
    private final ScheduledExecutorService keeper =
            Executors.newSingleThreadScheduledExecutor(
                    body -> {
                        Thread daemon = new Thread(body, "notice broker");
                        daemon.setDaemon(true);
                        return daemon;
                    });

    private final Object turn = new Object();

    /** Guarded by {@link #turn}. */
    private @Nullable MqttClient connected;

    /** Guarded by {@link #turn}. */
    private boolean isClosed;

    private MqttChannel(String name, MqttBroker broker) {
        this.name = name;
        this.broker = broker;
    }

    /**
     * Begins to connect; returns at once.
     *
     * @param again how often a lost connection is tried again
     */
    public static MqttChannel start(String name, MqttBroker broker, Duration again) {
        MqttChannel channel = new MqttChannel(name, broker);
        Future<?> unused =
                channel.keeper.scheduleWithFixedDelay(
                        channel::keep, 0, again.toMillis(), TimeUnit.MILLISECONDS);
        return channel;
    }

    @Override
    public String name() {
        return name;
    }

    /** Whoever listens to the topic gets it. */
    @Override
    public boolean isForOne() {
        return false;
    }

    private void keep() {
        try {
            synchronized (turn) {
                connection();
            }
        } catch (MqttException e) {
            LOG.log(System.Logger.Level.DEBUG, () -> name + ": no connection: " + words(e));
        }
    }

    @Override
    public Delivery deliver(Notice notice, Recipient recipient) {
        ObjectNode json = NoticeJson.notice(notice);
        json.put("person", recipient.person());
        synchronized (turn) {
            try {
                MqttClient client = connection();
                if (!notice.kind().isExercise()) {
                    for (CabinetFacts facts : notice.cabinets()) {
                        client.publish(
                                broker.topic() + "/cabinet/" + level(facts.cabinet()),
                                state(notice, facts),
                                QOS,
                                true);
                    }
                }
                client.publish(broker.topic() + "/notice", octets(json), QOS, false);
                return new Delivery.Delivered("the broker acknowledged it");
            } catch (MqttException e) {
                drop();
                return failed(e);
            }
        }
    }

    private static byte[] state(Notice notice, CabinetFacts facts) {
        ObjectNode state = NoticeJson.cabinet(facts);
        state.put("state", notice.kind() == NoticeKind.ALL_CLEAR ? "clear" : "alarm");
        state.put("priority", notice.priority().word());
        state.put("event", notice.eventId());
        state.put("at", notice.at().toString());
        return octets(state);
    }

    private static byte[] octets(ObjectNode json) {
        return json.toString().getBytes(StandardCharsets.UTF_8);
    }

    /** A name as one level of a topic: what means something there is percent-encoded. */
    static String level(String name) {
        StringBuilder level = new StringBuilder(name.length());
        PlainLine.of(name, WORDS_MAX)
                .codePoints()
                .forEach(
                        point -> {
                            if ("/+#%$".indexOf(point) >= 0) {
                                level.append(String.format(Locale.ROOT, "%%%02X", point));
                            } else {
                                level.appendCodePoint(point);
                            }
                        });
        return level.toString();
    }

    /** The connection, made where there is none. Called under {@link #turn}. */
    private MqttClient connection() throws MqttException {
        MqttClient there = connected;
        if (there != null && there.isConnected()) {
            return there;
        }
        drop();
        if (isClosed) {
            throw new MqttException(MqttException.REASON_CODE_CLIENT_CLOSED);
        }
        MqttClient made =
                new MqttClient(
                        (broker.roots().isPresent() ? "ssl://" : "tcp://")
                                + host()
                                + ":"
                                + broker.port(),
                        clientId,
                        new MemoryPersistence());
        connected = made;
        made.setTimeToWait(broker.limit().toMillis());
        boolean done = false;
        try {
            made.connect(options());
            made.publish(statusTopic(), ONLINE, QOS, true);
            done = true;
            return made;
        } finally {
            if (!done) {
                drop();
            }
        }
    }

    private String host() {
        return broker.host().contains(":") ? "[" + broker.host() + "]" : broker.host();
    }

    private MqttConnectOptions options() {
        MqttConnectOptions options = new MqttConnectOptions();
        options.setMqttVersion(MqttConnectOptions.MQTT_VERSION_3_1_1);
        // What was not acknowledged is published again by who keeps it; the broker need not.
        options.setCleanSession(true);
        options.setAutomaticReconnect(false);
        options.setKeepAliveInterval(KEEP_ALIVE_SECONDS);
        options.setConnectionTimeout((int) Math.max(1, broker.limit().toSeconds()));
        options.setWill(statusTopic(), OFFLINE, QOS, true);
        broker.login()
                .ifPresent(
                        login -> {
                            options.setUserName(login.user());
                            options.setPassword(login.password().reveal().toCharArray());
                        });
        broker.roots()
                .ifPresent(
                        roots -> {
                            options.setSocketFactory(roots.context().getSocketFactory());
                            options.setHttpsHostnameVerificationEnabled(true);
                        });
        return options;
    }

    private String statusTopic() {
        return broker.topic() + "/status";
    }

    /** Forgets a connection, in whatever state. Called under {@link #turn}. */
    private void drop() {
        MqttClient broken = connected;
        connected = null;
        if (broken == null) {
            return;
        }
        try {
            broken.disconnectForcibly(0, 1, false);
        } catch (MqttException e) {
            LOG.log(System.Logger.Level.DEBUG, name, e);
        }
        try {
            broken.close(true);
        } catch (MqttException e) {
            LOG.log(System.Logger.Level.DEBUG, name, e);
        }
    }

    private static Delivery failed(MqttException failure) {
        return switch (failure.getReasonCode()) {
            // 3.2.2.3, return codes 4 and 5.
            case MqttException.REASON_CODE_FAILED_AUTHENTICATION,
                    MqttException.REASON_CODE_NOT_AUTHORIZED ->
                    new Delivery.TryAgain(
                            "the broker refuses user or password (" + words(failure) + ")",
                            SETTINGS_PAUSE);
            default ->
                    new Delivery.TryAgain(
                            "no word from the broker (" + words(failure) + ")", Duration.ZERO);
        };
    }

    private static String words(MqttException failure) {
        Throwable cause = failure.getCause();
        String message = cause == null ? failure.getMessage() : cause.getMessage();
        return PlainLine.of(
                message == null || message.isBlank() ? failure.toString() : message, WORDS_MAX);
    }

    /** With a goodbye: the broker does not send the will after it (MQTT-3.14.4-3). */
    @Override
    public void close() {
        keeper.shutdownNow();
        synchronized (turn) {
            isClosed = true;
            MqttClient there = connected;
            if (there != null && there.isConnected()) {
                try {
                    there.publish(statusTopic(), OFFLINE, QOS, true);
                    there.disconnect(broker.limit().toMillis());
                } catch (MqttException e) {
                    LOG.log(System.Logger.Level.DEBUG, name, e);
                }
            }
            drop();
        }
    }
}
