package io.evenwarm.nearby;

import io.evenwarm.link.KeyPin;
import java.io.IOException;
import java.net.Inet4Address;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.NetworkInterface;
import java.net.SocketException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import javax.jmdns.JmDNS;
import javax.jmdns.ServiceInfo;

/** The service as both sides see it; docs/protocol.md has it for other programs. */
final class Service {

    /** RFC 6763 s.7; the name is not registered with IANA. */
    static final String TYPE = "_evenwarm._tcp.local.";

    /** RFC 6763 s.6.7: a version of the keys below, first of all. */
    private static final String VERSION = "txtvers";

    private static final String KEY = "key";
    private static final int SHORT_KEY_DIGITS = 8;

    private Service() {}

    /** An agent's entry. Its name in lists carries the first digits of its key only. */
    static ServiceInfo info(KeyPin key, int port) {
        return ServiceInfo.create(
                TYPE,
                "Evenwarm " + shortKey(key),
                port,
                0,
                0,
                Map.of(VERSION, "1", KEY, key.toString()));
    }

    /** The responder of one address; its host name is its own, apart from the machine's. */
    static JmDNS responder(InetAddress address, String hostName) throws IOException {
        return JmDNS.create(address, hostName);
    }

    static String hostName(KeyPin key) {
        return "evenwarm-" + shortKey(key);
    }

    private static String shortKey(KeyPin key) {
        return key.sha256Hex().substring(0, SHORT_KEY_DIGITS);
    }

    /** An entry that came from the network; empty when it is of no use. */
    static Optional<NearbyAgent> read(ServiceInfo info) {
        String key = info.getPropertyString(KEY);
        List<InetSocketAddress> addresses =
                Arrays.stream(info.getInetAddresses())
                        .map(address -> new InetSocketAddress(address, info.getPort()))
                        .toList();
        if (key == null || addresses.isEmpty() || info.getPort() == 0) {
            return Optional.empty();
        }
        try {
            return Optional.of(new NearbyAgent(KeyPin.parse(key), addresses));
        } catch (IllegalArgumentException e) {
            // Another program's, or somebody's play.
            return Optional.empty();
        }
    }

    /**
     * One address of each of this machine's networks that is up; the loopback one last.
     *
     * <p>An IPv4 address where there is one: home networks carry multicast over it most reliably
     * (common practice, no source).
     */
    static List<InetAddress> ownAddresses() throws SocketException {
        List<InetAddress> usual = new ArrayList<>();
        List<InetAddress> loopback = new ArrayList<>();
        for (NetworkInterface network : Collections.list(NetworkInterface.getNetworkInterfaces())) {
            if (network.isUp() && (network.isLoopback() || network.supportsMulticast())) {
                Collections.list(network.getInetAddresses()).stream()
                        .min(Comparator.comparing(each -> each instanceof Inet4Address ? 0 : 1))
                        .ifPresent((network.isLoopback() ? loopback : usual)::add);
            }
        }
        usual.addAll(loopback);
        return usual;
    }
}
