package io.evenwarm.agent.beacon;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import java.lang.System.Logger.Level;
import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Function;
import java.util.function.Supplier;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;

/**
 * Keeps each cabinet's state at a broker, retained, so that whoever asks gets the newest at once;
 * the broker itself says when the agent is gone (last will, MQTT 3.1.1 s.3.1.2.5).
 *
 * <p>{@code TOPIC/alive} is {@code yes}, or {@code no} after a clean end or, by the last will, one
 * and a half keep-alive times after the agent fell silent. {@code TOPIC/cabinet/NAME} has the
 * cabinet's state as JSON: once a minute, and at once when what is wrong with it changes. QoS 1.
 *
 * <p>One daemon thread does it all. What can't be sent now is not kept: the next state replaces it.
 */
public final class BrokerBeacon implements AutoCloseable {

    /** The broker calls the agent gone after one and a half of it (MQTT 3.1.1 s.3.1.2.10). */
    static final int KEEP_ALIVE_SECONDS = 20;

    private static final System.Logger LOG = System.getLogger(BrokerBeacon.class.getName());
    private static final int QOS = 1;
    private static final int TIME_MAX_SECONDS = 10;
    private static final long STATE_NANOS = 60_000_000_000L;
    private static final long ROUND_MILLIS = 1000;
    private static final int[] RETRY_SECONDS = {2, 5, 15, 30, 60};
    private static final long GOODBYE_MILLIS = 500;

    private final BrokerSettings settings;
    private final Supplier<List<CabinetSnapshot>> snapshots;
    private final Function<CabinetSnapshot, String> json;
    private final MonotonicClock clock;
    private final CountDownLatch ended = new CountDownLatch(1);
    private final Thread thread;
    private final Map<CabinetName, Told> told = new HashMap<>();
    private String lastTrouble = "";

    /** What was last told of a cabinet. */
    private record Told(String wrong, long atNanos) {}

    private BrokerBeacon(
            BrokerSettings settings,
            Supplier<List<CabinetSnapshot>> snapshots,
            Function<CabinetSnapshot, String> json,
            MonotonicClock clock) {
        this.settings = settings;
        this.snapshots = snapshots;
        this.json = json;
        this.clock = clock;
        this.thread = new Thread(this::run, "beacon broker");
    }

    /**
     * Begins; returns at once.
     *
     * @param snapshots gives the newest of each cabinet, without waiting
     * @param json writes one
     * @param clock real time
     */
    public static BrokerBeacon start(
            BrokerSettings settings,
            Supplier<List<CabinetSnapshot>> snapshots,
            Function<CabinetSnapshot, String> json,
            MonotonicClock clock) {
        BrokerBeacon beacon = new BrokerBeacon(settings, snapshots, json, clock);
        beacon.thread.setDaemon(true);
        beacon.thread.start();
        return beacon;
    }

    private void run() {
        int failures = 0;
        try {
            do {
                try (MqttClient client = client()) {
                    connect(client);
                    failures = 0;
                    said("");
                    serve(client);
                } catch (MqttException | RuntimeException e) {
                    said("the broker: " + words(e));
                }
            } while (!ended.await(
                    RETRY_SECONDS[Math.min(failures++, RETRY_SECONDS.length - 1)],
                    TimeUnit.SECONDS));
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private MqttClient client() throws MqttException {
        // A new name each time: a session that the broker still holds is not taken over.
        MqttClient client =
                new MqttClient(
                        settings.address(),
                        "evenwarm-" + UUID.randomUUID().toString().substring(0, 13),
                        new MemoryPersistence());
        client.setTimeToWait(TIME_MAX_SECONDS * 1000L);
        return client;
    }

    private void connect(MqttClient client) throws MqttException {
        MqttConnectOptions options = new MqttConnectOptions();
        options.setCleanSession(true);
        options.setConnectionTimeout(TIME_MAX_SECONDS);
        options.setKeepAliveInterval(KEEP_ALIVE_SECONDS);
        options.setWill(aliveTopic(), octets("no"), QOS, true);
        settings.login()
                .ifPresent(
                        login -> {
                            options.setUserName(login.user());
                            options.setPassword(login.password().toCharArray());
                        });
        settings.trust().ifPresent(trust -> options.setSocketFactory(trust.getSocketFactory()));
        client.connect(options);
        client.publish(aliveTopic(), octets("yes"), QOS, true);
        told.clear();
    }

    private void serve(MqttClient client) throws MqttException, InterruptedException {
        do {
            if (!client.isConnected()) {
                throw new IllegalStateException("the connection was lost");
            }
            for (CabinetSnapshot snapshot : snapshots.get()) {
                tell(client, snapshot);
            }
        } while (!ended.await(ROUND_MILLIS, TimeUnit.MILLISECONDS));
        client.publish(aliveTopic(), octets("no"), QOS, true);
        client.disconnect(GOODBYE_MILLIS);
    }

    private void tell(MqttClient client, CabinetSnapshot snapshot) throws MqttException {
        long nowNanos = clock.nanos();
        String wrong = wrong(snapshot);
        Told last = told.get(snapshot.cabinet());
        if (last == null
                || !last.wrong().equals(wrong)
                || nowNanos - last.atNanos() >= STATE_NANOS) {
            client.publish(
                    settings.topic() + "/cabinet/" + snapshot.cabinet(),
                    octets(json.apply(snapshot)),
                    QOS,
                    true);
            told.put(snapshot.cabinet(), new Told(wrong, nowNanos));
        }
    }

    /** What a change of which is told at once. */
    private static String wrong(CabinetSnapshot snapshot) {
        StringBuilder words = new StringBuilder(snapshot.guard().name());
        for (Finding finding : snapshot.findings()) {
            words.append(' ').append(finding.code().value());
            finding.probe().ifPresent(probe -> words.append('/').append(probe.value()));
        }
        return words.toString();
    }

    private String aliveTopic() {
        return settings.topic() + "/alive";
    }

    private static byte[] octets(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    private static String words(Exception e) {
        Optional<String> cause =
                Optional.ofNullable(e.getCause())
                        .map(Throwable::getMessage)
                        .filter(text -> !text.isBlank());
        return e.getMessage() + cause.map(text -> " (" + text + ")").orElse("");
    }

    private void said(String trouble) {
        if (!trouble.equals(lastTrouble)) {
            lastTrouble = trouble;
            if (trouble.isEmpty()) {
                LOG.log(Level.INFO, "the broker at {0} is told", settings.address());
            } else {
                LOG.log(Level.WARNING, "{0}; tried again", trouble);
            }
        }
    }

    /** Says goodbye if that can be done within half a second. */
    @Override
    public void close() {
        ended.countDown();
        try {
            thread.join(GOODBYE_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        thread.interrupt();
    }
}
