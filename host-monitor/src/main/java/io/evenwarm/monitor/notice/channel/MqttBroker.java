package io.evenwarm.monitor.notice.channel;

import io.evenwarm.monitor.notice.Secret;
import java.time.Duration;
import java.util.Optional;

/**
 * A broker, MQTT 3.1.1.
 *
 * @param host its name, as in its certificate
 * @param port 8883 with TLS, 1883 without (IANA)
 * @param roots whose certificates are believed; empty: without TLS, for a broker on this machine or
 *     in a trusted network
 * @param login user and password; empty where the broker asks for none
 * @param topic under which everything is published
 * @param limit for connecting, and again for each publication
 */
public record MqttBroker(
        String host,
        int port,
        Optional<TrustedRoots> roots,
        Optional<Login> login,
        String topic,
        Duration limit) {

    /** Who publishes. */
    public record Login(String user, Secret password) {}

    /**
     * A topic to publish under: no wildcards (MQTT 3.1.1, 4.7.1), not a server's own (4.7.2), no
     * empty level.
     *
     * @throws IllegalArgumentException when it is none
     */
    public static String requireTopic(String text) {
        if (text.length() > 200 || !text.matches("[^+#$/\\p{Cntrl}]+(/[^+#/\\p{Cntrl}]+)*")) {
            throw new IllegalArgumentException(text);
        }
        return text;
    }
}
