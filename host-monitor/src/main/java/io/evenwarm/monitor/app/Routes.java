package io.evenwarm.monitor.app;

import io.evenwarm.link.Identity;
import io.evenwarm.link.KeyPin;
import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.SerialLinks;
import io.evenwarm.link.SignedCommands;
import io.evenwarm.link.TlsLinks;
import io.evenwarm.monitor.intake.AgentAddress;
import io.evenwarm.monitor.intake.LinkOpener;
import java.net.InetSocketAddress;
import java.time.Duration;
import java.util.Optional;

/** From settings to links. */
final class Routes {

    private static final Duration CONNECT_TIME_MAX = Duration.ofSeconds(10);

    private Routes() {}

    static AgentAddress address(MonitorSettings.AgentEntry entry, Identity own) {
        LinkOpener opener =
                entry.route()
                        .fold(
                                tls -> () -> connect(tls, own),
                                serial ->
                                        () ->
                                                SignedCommands.signing(
                                                        SerialLinks.open(
                                                                serial.port(), serial.baud()),
                                                        own));
        Optional<KeyPin> toProve = entry.route().fold(tls -> Optional.empty(), Route.Serial::key);
        return new AgentAddress(entry.name(), entry.route().where(), toProve, opener);
    }

    static Link connect(Route.Tls route, Identity own) throws LinkException {
        return TlsLinks.connect(
                new InetSocketAddress(route.host(), route.port()),
                own,
                route.key(),
                CONNECT_TIME_MAX);
    }
}
