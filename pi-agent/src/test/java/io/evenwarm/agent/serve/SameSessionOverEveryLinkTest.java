package io.evenwarm.agent.serve;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.link.Identity;
import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.LocalLinks;
import io.evenwarm.link.SerialLinks;
import io.evenwarm.link.SignedCommands;
import io.evenwarm.link.TlsLinks;
import io.evenwarm.link.TlsListener;
import io.evenwarm.message.Message;
import io.evenwarm.message.Role;
import io.evenwarm.testing.MemoryListener;
import io.evenwarm.testing.PtyPair;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Duration;
import java.util.HexFormat;
import java.util.List;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * One scripted session, over every kind of link, through the real server with its threads and the
 * real journal: the same messages come in the same order, whatever they travel over.
 */
final class SameSessionOverEveryLinkTest {

    private static final int BAUD = 115_200;

    @TempDir Path folder;

    private List<String> inMemory() throws IOException {
        try (AgentRig agent = rig("memory")) {
            MemoryListener listener = new MemoryListener();
            agent.server().listen("memory", () -> listener, MonitorServer.MAX_MONITORS);
            return ScriptedMonitor.wholeSession(agent, listener.connect());
        }
    }

    private AgentRig rig(String name) throws IOException {
        return new AgentRig(Files.createDirectory(folder.resolve(name)), SystemClock.monotonic());
    }

    @Test
    void inMemoryTheScriptRunsFromHelloToGoodbye() throws IOException {
        List<String> exchange = inMemory();
        assertTrue(exchange.get(0).startsWith("Hello["), exchange.get(0));
        assertTrue(
                exchange.get(exchange.size() - 1).contains("the agent stops"),
                exchange.get(exchange.size() - 1));
        assertEquals(
                180,
                exchange.stream().filter(line -> line.startsWith("Readings[")).count(),
                "readings of two cabinets every 5 s in 450 s");
    }

    @Test
    void overTlsItIsTheSameSession() throws IOException {
        Identity agentKey = Identity.create("agent");
        Identity monitorKey = Identity.create("monitor");
        CompletableFuture<Integer> port = new CompletableFuture<>();
        try (AgentRig agent = rig("tls")) {
            agent.monitors().with(monitorKey.pin(), Role.OPERATE);
            agent.server()
                    .listen(
                            "TLS",
                            () -> {
                                TlsListener listener =
                                        TlsLinks.listen(
                                                loopback(0), agentKey, Set.of(monitorKey.pin()));
                                port.complete(listener.port());
                                return listener;
                            },
                            MonitorServer.MAX_MONITORS);
            Link link =
                    TlsLinks.connect(
                            loopback(port.join()),
                            monitorKey,
                            agentKey.pin(),
                            Duration.ofSeconds(10));
            assertSame(inMemory(), ScriptedMonitor.wholeSession(agent, link));
        }
    }

    @Test
    void overALocalSocketItIsTheSameSession() throws IOException {
        Path socket = folder.resolve("agent.sock");
        try (AgentRig agent = rig("local")) {
            agent.server()
                    .listen("local", () -> LocalLinks.listen(socket), MonitorServer.MAX_LOCAL);
            assertSame(inMemory(), ScriptedMonitor.wholeSession(agent, connect(socket)));
        }
    }

    @Test
    void overAPseudoTerminalItIsTheSameSession() throws IOException {
        PtyPair.assumeThatSocatIsThere();
        try (PtyPair cable = PtyPair.open(folder);
                AgentRig agent = rig("pty")) {
            agent.server().serveLine("serial", () -> SerialLinks.open(cable.left(), BAUD));
            Identity monitorKey = Identity.create("monitor");
            agent.monitors().with(monitorKey.pin(), Role.OPERATE);
            Link link = SignedCommands.signing(SerialLinks.open(cable.right(), BAUD), monitorKey);
            List<String> here = ScriptedMonitor.wholeSession(agent, link);
            assertSame(inMemory(), here);
            System.out.println(
                    "whole-5 pseudo-terminal: the same "
                            + here.size()
                            + " results as in memory, sha256 "
                            + sha256(here));
        }
    }

    /** A serial line does not tell that a monitor has gone, nor that another has come. */
    @Test
    void onALineAMonitorThatStartsAgainIsServedAtOnce() throws IOException {
        PtyPair.assumeThatSocatIsThere();
        try (PtyPair cable = PtyPair.open(folder);
                AgentRig agent = rig("pty")) {
            agent.server().serveLine("serial", () -> SerialLinks.open(cable.left(), BAUD));
            agent.journalTicks(100);
            for (int start = 1; start <= 3; start++) {
                try (Link link = SerialLinks.open(cable.right(), BAUD)) {
                    ScriptedMonitor monitor = new ScriptedMonitor(link);
                    monitor.greet();
                    link.send(new Message.HistoryRequest(0));
                    Message.HistoryBatch batch = (Message.HistoryBatch) monitor.next();
                    assertEquals(1, batch.records().get(0).sequence(), "start " + start);
                    assertEquals(LineEndpoint.MAX_RECORDS, batch.records().size());
                }
            }
        }
    }

    private static String sha256(List<String> lines) {
        try {
            return HexFormat.of()
                    .formatHex(
                            MessageDigest.getInstance("SHA-256")
                                    .digest(
                                            String.join("\n", lines)
                                                    .getBytes(StandardCharsets.UTF_8)));
        } catch (NoSuchAlgorithmException e) {
            throw new AssertionError("every Java has SHA-256", e);
        }
    }

    private static void assertSame(List<String> inMemory, List<String> here) {
        assertEquals(String.join("\n", inMemory), String.join("\n", here));
    }

    private static InetSocketAddress loopback(int port) {
        return new InetSocketAddress(InetAddress.getLoopbackAddress(), port);
    }

    /** The listener's thread may take a moment to open it. */
    private static Link connect(Path socket) throws LinkException {
        LinkException last = new LinkException("not tried");
        for (int i = 0; i < 100; i++) {
            try {
                return LocalLinks.connect(socket);
            } catch (LinkException e) {
                last = e;
                Waiting.millis(20);
            }
        }
        throw last;
    }
}
