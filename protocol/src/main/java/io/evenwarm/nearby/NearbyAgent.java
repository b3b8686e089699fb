package io.evenwarm.nearby;

import io.evenwarm.link.KeyPin;
import java.net.InetSocketAddress;
import java.util.List;

/**
 * What the local network says of one agent; unproved.
 *
 * @param key the agent's, which its link must prove
 * @param addresses where it listens; at least one
 */
public record NearbyAgent(KeyPin key, List<InetSocketAddress> addresses) {

    public NearbyAgent {
        addresses = List.copyOf(addresses);
        if (addresses.isEmpty()) {
            throw new IllegalArgumentException("an agent nearby has at least one address");
        }
    }
}
