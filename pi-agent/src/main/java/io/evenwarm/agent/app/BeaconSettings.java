package io.evenwarm.agent.app;

import io.evenwarm.agent.beacon.BrokerSettings;
import java.net.URI;
import java.time.Duration;
import java.util.Optional;
import javax.net.ssl.SSLContext;

/**
 * What the agent says when no monitor is there.
 *
 * @param broker an MQTT broker that is told; empty for none
 * @param feed an outside switch that is called; empty for none
 */
record BeaconSettings(Optional<BrokerSettings> broker, Optional<FeedSettings> feed) {

    static final BeaconSettings NONE = new BeaconSettings(Optional.empty(), Optional.empty());

    /**
     * @param address with its secret; never shown
     * @param every time between two calls
     * @param trust empty: the system's authorities
     * @param stopWhenAlone whether it is called no more while something urgent holds and no monitor
     *     is connected that could tell of it
     */
    record FeedSettings(
            URI address, Duration every, Optional<SSLContext> trust, boolean stopWhenAlone) {
        @Override
        public String toString() {
            return "FeedSettings[" + address.getHost() + "]";
        }
    }
}
