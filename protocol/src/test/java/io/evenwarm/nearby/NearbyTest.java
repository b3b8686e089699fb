package io.evenwarm.nearby;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.link.KeyPin;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.stream.IntStream;
import javax.jmdns.JmDNS;
import javax.jmdns.ServiceInfo;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/** Real multicast on the loopback network, which every machine has. */
@Timeout(120)
final class NearbyTest {

    private static final InetAddress HERE = InetAddress.getLoopbackAddress();

    private static KeyPin key(int number) {
        return new KeyPin("%064x".formatted(number));
    }

    private static Optional<NearbyAgent> find(KeyPin key, boolean expected) throws IOException {
        Optional<NearbyAgent> found;
        int attempt = 0;
        do {
            found =
                    Nearby.look(Duration.ofSeconds(2)).stream()
                            .filter(agent -> agent.key().equals(key))
                            .findFirst();
            attempt++;
        } while (attempt < 8 && found.isPresent() != expected);
        return found;
    }

    @Test
    void anAgentIsFoundByItsKeyWhileItWantsToBeAndNoLonger() throws IOException {
        AtomicBoolean wanted = new AtomicBoolean(true);
        KeyPin key = key(0x51);
        Announcer announcer = Announcer.start(key, 4770, Optional.of(HERE), wanted::get);
        try {
            assertEquals(
                    Optional.of(new NearbyAgent(key, List.of(new InetSocketAddress(HERE, 4770)))),
                    find(key, true));
            wanted.set(false);
            assertEquals(Optional.empty(), find(key, false));
            wanted.set(true);
            assertTrue(find(key, true).isPresent());
        } finally {
            announcer.close();
        }
        assertEquals(Optional.empty(), find(key, false));
    }

    @Test
    void anAgentTellsNobodyItsName() throws IOException {
        ServiceInfo info = Service.info(key(0xabc), 4770);
        assertEquals("Evenwarm 00000000", info.getName());
        assertEquals(
                List.of("key", "txtvers"),
                java.util.Collections.list(info.getPropertyNames()).stream().sorted().toList());
    }

    @Test
    void entriesThatNoAgentMadeAreOfNoUse() throws IOException {
        KeyPin sound = key(0x52);
        try (JmDNS others = JmDNS.create(HERE, "evenwarm-others")) {
            others.registerService(
                    ServiceInfo.create(Service.TYPE, "no key", 1, 0, 0, Map.of("txtvers", "1")));
            others.registerService(
                    ServiceInfo.create(
                            Service.TYPE, "bad key", 2, 0, 0, Map.of("key", "\u001b[31msha256:1")));
            others.registerService(Service.info(sound, 3));
            assertTrue(find(sound, true).isPresent());
            assertEquals(
                    List.of(3),
                    Nearby.look(Duration.ofSeconds(2)).stream()
                            .flatMap(agent -> agent.addresses().stream())
                            .map(InetSocketAddress::getPort)
                            .filter(port -> port < 4)
                            .toList());
        }
    }

    @Test
    void aKeyIsListedOnceWithAllItsAddressesAndAFloodIsCutOff() {
        InetSocketAddress one = new InetSocketAddress(HERE, 1);
        InetSocketAddress two = new InetSocketAddress(HERE, 2);
        assertEquals(
                List.of(new NearbyAgent(key(1), List.of(one, two))),
                Nearby.merge(
                        List.of(
                                new NearbyAgent(key(1), List.of(one)),
                                new NearbyAgent(key(1), List.of(two, one)))));
        List<NearbyAgent> flood =
                IntStream.range(0, 1000)
                        .mapToObj(number -> new NearbyAgent(key(number), List.of(one)))
                        .toList();
        assertEquals(Nearby.MAX_AGENTS, Nearby.merge(flood).size());
    }
}
