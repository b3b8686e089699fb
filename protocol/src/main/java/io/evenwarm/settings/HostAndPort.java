package io.evenwarm.settings;

import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Where a server listens or is reached.
 *
 * @param host a name or an address
 * @param port 0 to 65535
 */
public record HostAndPort(String host, int port) {

    private static final int PORT_MAX = 65_535;
    private static final Pattern TEXT =
            Pattern.compile("(?:\\[([0-9A-Fa-f:.]+)]|([A-Za-z0-9.-]+)):(\\d{1,5})");

    /**
     * Reads {@code host:port}, an IPv6 address in square brackets.
     *
     * @throws IllegalArgumentException when it is something else
     */
    public static HostAndPort parse(String text) {
        Matcher matcher = TEXT.matcher(text);
        if (!matcher.matches() || Integer.parseInt(matcher.group(3)) > PORT_MAX) {
            throw new IllegalArgumentException(text);
        }
        return new HostAndPort(
                matcher.group(1) == null ? matcher.group(2) : matcher.group(1),
                Integer.parseInt(matcher.group(3)));
    }

    /** As it is read. */
    @Override
    public String toString() {
        return (host.contains(":") ? "[" + host + "]" : host) + ":" + port;
    }
}
