package io.evenwarm.monitor.app;

import io.evenwarm.link.KeyPin;
import io.evenwarm.settings.HostAndPort;
import java.util.Optional;
import java.util.function.Function;

/** How an agent is reached. */
sealed interface Route {

    /** For a person. */
    String where();

    /** Handles every case. */
    <R> R fold(Function<Tls, R> tls, Function<Serial, R> serial);

    /**
     * Over TLS.
     *
     * @param host a name or an address, looked up anew at each connection
     * @param port 1 to 65535
     * @param key the agent's key
     */
    record Tls(String host, int port, KeyPin key) implements Route {
        @Override
        public String where() {
            return new HostAndPort(host, port).toString();
        }

        @Override
        public <R> R fold(Function<Tls, R> tls, Function<Serial, R> serial) {
            return tls.apply(this);
        }
    }

    /**
     * Over a serial line, which whoever has the cable may use.
     *
     * @param port a device's path, or a port's name
     * @param baud bits a second
     * @param key the agent's, which it must prove; empty: whoever calls itself so is believed
     */
    record Serial(String port, int baud, Optional<KeyPin> key) implements Route {
        @Override
        public String where() {
            return port;
        }

        @Override
        public <R> R fold(Function<Tls, R> tls, Function<Serial, R> serial) {
            return serial.apply(this);
        }
    }
}
