package io.evenwarm.nearby;

import io.evenwarm.link.KeyPin;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ThreadLocalRandom;
import java.util.stream.Stream;
import javax.jmdns.JmDNS;

/** Looks for agents on the local networks. */
public final class Nearby {

    /** More than any home has; whatever is beyond is not listed. */
    static final int MAX_AGENTS = 100;

    private Nearby() {}

    /**
     * Asks on every network of this machine. Blocks for about that long.
     *
     * @param time to wait for answers; the network is asked again meanwhile
     * @return who answered, each key once, at most {@value #MAX_AGENTS}
     * @throws IOException when no network could be asked
     */
    public static List<NearbyAgent> look(Duration time) throws IOException {
        List<JmDNS> askers = new ArrayList<>();
        IOException trouble = new IOException("this machine is on no network");
        try {
            for (InetAddress address : Service.ownAddresses()) {
                try {
                    askers.add(Service.responder(address, randomName()));
                } catch (IOException e) {
                    trouble = e;
                }
            }
            if (askers.isEmpty()) {
                throw new IOException("no network can be asked: " + trouble.getMessage(), trouble);
            }
            return merge(
                    askers.parallelStream()
                            .flatMap(asker -> Stream.of(asker.list(Service.TYPE, time.toMillis())))
                            .flatMap(info -> Service.read(info).stream())
                            .toList());
        } finally {
            Parting.of(askers);
        }
    }

    private static String randomName() {
        return "evenwarm-look-" + Integer.toHexString(ThreadLocalRandom.current().nextInt());
    }

    /** Each key once, with all its addresses. */
    static List<NearbyAgent> merge(List<NearbyAgent> answers) {
        Map<KeyPin, Set<InetSocketAddress>> byKey = new LinkedHashMap<>();
        for (NearbyAgent answer : answers) {
            if (byKey.containsKey(answer.key()) || byKey.size() < MAX_AGENTS) {
                byKey.computeIfAbsent(answer.key(), key -> new LinkedHashSet<>())
                        .addAll(answer.addresses());
            }
        }
        return byKey.entrySet().stream()
                .map(each -> new NearbyAgent(each.getKey(), List.copyOf(each.getValue())))
                .toList();
    }
}
