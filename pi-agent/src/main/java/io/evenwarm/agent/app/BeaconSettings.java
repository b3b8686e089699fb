package io.evenwarm.agent.app;

import io.evenwarm.agent.beacon.BrokerSettings;
import io.evenwarm.outside.FeedPlan;
import java.util.Optional;

/**
 * What the agent says when no monitor is there.
 *
 * @param broker an MQTT broker that is told; empty for none
 * @param feed an outside switch that is called; empty for none
 */
record BeaconSettings(Optional<BrokerSettings> broker, Optional<FeedSettings> feed) {

    static final BeaconSettings NONE = new BeaconSettings(Optional.empty(), Optional.empty());

    /**
     * @param plan which switch, how often
     * @param stopWhenAlone whether it is called no more while something urgent holds and no monitor
     *     is connected that could tell of it
     */
    record FeedSettings(FeedPlan plan, boolean stopWhenAlone) {}
}
