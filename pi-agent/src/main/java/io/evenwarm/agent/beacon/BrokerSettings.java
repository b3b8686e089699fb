package io.evenwarm.agent.beacon;

import java.util.Optional;
import javax.net.ssl.SSLContext;

/**
 * How a broker is reached.
 *
 * @param address {@code tcp://host:port} or {@code ssl://host:port}
 * @param topic under which everything of this agent is, without a slash at its end
 * @param login empty for none
 * @param trust for {@code ssl}; empty: the system's authorities
 */
public record BrokerSettings(
        String address, String topic, Optional<Login> login, Optional<SSLContext> trust) {

    /** A user and a password; never shown. */
    public record Login(String user, String password) {
        @Override
        public String toString() {
            return "Login[" + user + "]";
        }
    }
}
