package io.evenwarm.agent.app;

import io.evenwarm.agent.app.AgentConfiguration.Announce;
import io.evenwarm.agent.app.AgentConfiguration.SerialSettings;
import io.evenwarm.agent.app.AgentConfiguration.TlsSettings;
import io.evenwarm.agent.serve.MonitorServer;
import io.evenwarm.agent.serve.PairingDesk;
import io.evenwarm.agent.serve.ServeContext;
import io.evenwarm.link.Identity;
import io.evenwarm.link.KeyPin;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.LinkListener;
import io.evenwarm.link.LocalLinks;
import io.evenwarm.link.SerialLinks;
import io.evenwarm.link.TlsLinks;
import io.evenwarm.link.TlsListener;
import io.evenwarm.nearby.Announcer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;

/**
 * Everywhere that the agent can be talked to: TLS, serial line, local socket. Whatever can't be
 * opened is told and tried again in the background; control knows nothing of it.
 */
final class MonitorLinks implements AutoCloseable {

    private static final String LOCAL = "local socket";

    private final MonitorServer server;
    private final CompletableFuture<TlsPlace> tls = new CompletableFuture<>();
    private final CompletableFuture<Boolean> local = new CompletableFuture<>();
    private Optional<Announcer> announcer = Optional.empty();
    private boolean isClosed;

    /**
     * Where monitors find the agent over TLS.
     *
     * @param port the TCP port
     * @param key the agent's key
     */
    record TlsPlace(int port, KeyPin key) {}

    private MonitorLinks(ServeContext context) {
        this.server = new MonitorServer(context);
    }

    /** Opens all that is configured; returns at once. */
    static MonitorLinks open(AgentConfiguration configuration, ServeContext context) {
        MonitorLinks links = new MonitorLinks(context);
        Path state = configuration.stateFolder();
        links.server.listen(LOCAL, () -> links.listenLocally(state), MonitorServer.MAX_LOCAL);
        configuration
                .tls()
                .ifPresent(
                        settings ->
                                links.server.listen(
                                        "TLS",
                                        () -> links.listen(settings, state, context.pairing()),
                                        MonitorServer.MAX_MONITORS));
        configuration.serial().ifPresent(links::serve);
        return links;
    }

    private LinkListener listenLocally(Path state) throws LinkException {
        try {
            LinkListener listener = LocalLinks.listen(StateFolder.socketIn(state));
            local.complete(true);
            return listener;
        } catch (LinkException e) {
            local.complete(false);
            throw e;
        }
    }

    private LinkListener listen(TlsSettings settings, Path state, PairingDesk pairing)
            throws LinkException {
        try {
            Identity identity = StateFolder.identity(state);
            InetSocketAddress address = new InetSocketAddress(settings.host(), settings.port());
            if (address.isUnresolved()) {
                throw new LinkException("this machine knows no address " + settings.host());
            }
            TlsListener listener = TlsLinks.listen(address, identity, pairing::admits);
            announce(settings, address.getAddress(), listener.port(), identity.pin(), pairing);
            tls.complete(new TlsPlace(listener.port(), identity.pin()));
            return listener;
        } catch (LinkException e) {
            tls.completeExceptionally(e);
            throw e;
        } catch (IOException e) {
            tls.completeExceptionally(e);
            throw new LinkException("the agent's identity: " + e.getMessage(), e);
        }
    }

    /** A listener that is opened anew after trouble may have another port. */
    private synchronized void announce(
            TlsSettings settings, InetAddress address, int port, KeyPin key, PairingDesk pairing) {
        announcer.ifPresent(Announcer::close);
        if (isClosed || settings.announce() == Announce.NEVER) {
            return;
        }
        announcer =
                Optional.of(
                        Announcer.start(
                                key,
                                port,
                                address.isAnyLocalAddress()
                                        ? Optional.empty()
                                        : Optional.of(address),
                                settings.announce() == Announce.ALWAYS
                                        ? () -> true
                                        : pairing::isOpen));
    }

    private void serve(SerialSettings settings) {
        server.serveLine(
                "serial line " + settings.port(),
                () -> SerialLinks.open(settings.port(), settings.baud()));
    }

    /** Each place where monitors should connect and can't, and why, for a person. Never waits. */
    List<String> troubles() {
        return server.endpoints().stream()
                .filter(place -> !place.isOpen())
                .map(place -> place.name() + ": " + place.words())
                .toList();
    }

    /** Whether a monitor that is paired is connected now. Never waits. */
    boolean isMonitorThere() {
        return server.monitorCount(LOCAL) > 0;
    }

    /** Waits until commands at this machine find the agent, or that has failed once. */
    void awaitLocal(long seconds) {
        try {
            local.get(seconds, TimeUnit.SECONDS);
        } catch (TimeoutException | ExecutionException e) {
            // It is tried again in the background; whoever waits goes on.
            return;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Where TLS listens; empty when the first attempt failed, or took longer than that. */
    Optional<TlsPlace> awaitTls(long seconds) {
        try {
            return Optional.of(tls.get(seconds, TimeUnit.SECONDS));
        } catch (TimeoutException | ExecutionException e) {
            return Optional.empty();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return Optional.empty();
        }
    }

    @Override
    public void close() {
        synchronized (this) {
            isClosed = true;
            announcer.ifPresent(Announcer::close);
        }
        server.close();
    }
}
