package io.evenwarm.agent.serve;

import static io.evenwarm.agent.Snapshots.cabinet;
import static io.evenwarm.agent.Snapshots.healthy;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.HandClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.link.Identity;
import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.LocalLinks;
import io.evenwarm.link.TlsLinks;
import io.evenwarm.message.Command;
import io.evenwarm.message.Message;
import io.evenwarm.message.Message.Hello;
import io.evenwarm.testing.MemoryListener;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.StandardProtocolFamily;
import java.net.UnixDomainSocketAddress;
import java.nio.ByteBuffer;
import java.nio.channels.SocketChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The server with its threads, against monitors that misbehave. */
final class MonitorServerTest {

    private static final Duration PATIENCE = Duration.ofSeconds(20);

    @TempDir Path folder;

    /** The sessions' clock: fifteen seconds of silence are over when the test says so. */
    private final HandClock clock = new HandClock();

    private final MemoryListener listener = new MemoryListener();
    private AgentRig agent = unopened();

    private AgentRig unopened() {
        return new AgentRig(Path.of("unused"), clock);
    }

    @BeforeEach
    void open() {
        agent = new AgentRig(folder, clock);
        agent.server().listen("memory", () -> listener, MonitorServer.MAX_MONITORS);
    }

    @AfterEach
    void close() {
        agent.close();
    }

    private int sessions() {
        return agent.server().endpoints().stream().mapToInt(EndpointState::sessions).sum();
    }

    private Link connected(String name) throws LinkException {
        Link link = listener.connect();
        link.send(new Hello(List.of(1), Hello.Side.MONITOR, name, "test monitor", 1));
        assertTrue(next(link) instanceof Hello);
        return link;
    }

    /** The next message but keep-alives and times. */
    private static Message next(Link link) throws LinkException {
        while (true) {
            Message message =
                    link.receive(PATIENCE).orElseThrow(() -> new AssertionError("nothing came"));
            if (!(message instanceof Message.KeepAlive || message instanceof Message.Time)) {
                return message;
            }
        }
    }

    @Test
    void aMonitorThatConnectsAndSaysNothingIsDropped() throws LinkException {
        Link silent = listener.connect();
        assertTrue(next(silent) instanceof Hello);
        assertEquals(1, sessions());
        clock.advanceSeconds(16);
        Waiting.until("the silent session ended", () -> sessions() == 0);
        assertThrows(LinkException.class, () -> silent.receive(PATIENCE));
    }

    @Test
    void aMonitorThatStopsReadingIsDroppedAndTheOthersNoticeNothing() throws LinkException {
        Link stuck = connected("stuck");
        Link healthy = connected("healthy");
        long tick = 0;
        // The stuck one says that it lives, but reads nothing: its link fills up.
        while (sessions() == 2) {
            tick++;
            clock.advanceSeconds(0.1);
            agent.show("north", tick);
            healthy.send(new Message.KeepAlive());
            Message.Live live = (Message.Live) next(healthy);
            assertEquals(tick, live.snapshot().tick(), "the healthy one gets every tick at once");
            sendKeepAliveUnlessDropped(stuck);
            // The sessions' threads need a share of the real time that this clock skips.
            Waiting.millis(1);
            assertTrue(tick < 20_000, "it was never dropped");
        }
        assertTrue(tick > 150, "dropped after " + tick + " ticks, which is less than 15 s");
        clock.advanceSeconds(0.1);
        agent.show("north", 1_000_000);
        Message.Live live = (Message.Live) next(healthy);
        assertEquals(1_000_000, live.snapshot().tick());
    }

    private static void sendKeepAliveUnlessDropped(Link link) {
        try {
            link.send(new Message.KeepAlive());
        } catch (LinkException e) {
            assertTrue(String.valueOf(e.getMessage()).contains("lost"), e.toString());
        }
    }

    @Test
    void aNewerMonitorIsToldSoAndLetGo() throws LinkException {
        Link newer = listener.connect();
        newer.send(new Hello(List.of(9), Hello.Side.MONITOR, "desk", "from the future", 1));
        assertTrue(next(newer) instanceof Hello);
        Message.Goodbye goodbye = (Message.Goodbye) next(newer);
        assertTrue(goodbye.reason().contains("you speak [9]"), goodbye.reason());
        Waiting.until("the session ended", () -> sessions() == 0);
    }

    @Test
    void garbageOnALocalSocketEndsThatSessionAndNoOther() throws IOException {
        Path socket = folder.resolve("agent.sock");
        agent.server().listen("local", () -> LocalLinks.listen(socket), MonitorServer.MAX_LOCAL);
        Waiting.until("the socket is there", () -> Files.exists(socket));
        Link good = connected("good");
        try (SocketChannel raw = SocketChannel.open(StandardProtocolFamily.UNIX)) {
            raw.connect(UnixDomainSocketAddress.of(socket));
            byte[] noise = new byte[300_000];
            new Random(11).nextBytes(noise);
            raw.write(ByteBuffer.wrap(noise));
            Waiting.until("the noisy session is open", () -> sessions() == 2);
            // Noise is no sign of life.
            clock.advanceSeconds(10);
            good.send(new Message.KeepAlive());
            clock.advanceSeconds(6);
            good.send(new Message.KeepAlive());
            Waiting.until("the noisy session ended", () -> sessions() == 1);
        }
        agent.show("south", 5);
        assertEquals(new Message.Live(healthy("south", 5, true)), next(good));
    }

    @Test
    void theNinthMonitorIsTurnedAwayInWords() throws LinkException {
        List<Link> eight = new ArrayList<>();
        for (int i = 0; i < MonitorServer.MAX_MONITORS; i++) {
            eight.add(connected("monitor " + i));
        }
        Message.Goodbye goodbye = (Message.Goodbye) next(listener.connect());
        assertEquals(
                "there are 8 sessions already: close a monitor that is not needed",
                goodbye.reason());
        eight.get(0).close();
        Waiting.until("one has left", () -> sessions() == 7);
        connected("the next");
    }

    @Test
    void aMistakeOfOursInOneSessionEndsThatSessionOnly() throws LinkException {
        Link first = connected("first");
        Link second = connected("second");
        first.send(new Message.CommandRequest(1, new Command.Silence(cabinet("north"))));
        assertThrows(LinkException.class, () -> next(first));
        agent.show("north", 4);
        assertEquals(new Message.Live(healthy("north", 4, true)), next(second));
    }

    @Test
    void aTakenPortIsSaidAndTriedAgain() throws IOException {
        Identity key = Identity.create("agent");
        InetSocketAddress address;
        try (ServerSocket taken = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            address = (InetSocketAddress) taken.getLocalSocketAddress();
            InetSocketAddress sameAddress = address;
            agent.server().listen("TLS", () -> TlsLinks.listen(sameAddress, key, Set.of()), 1);
            Waiting.until(
                    "the taken port is said",
                    () -> tls().words().contains(Integer.toString(sameAddress.getPort())));
            assertTrue(!tls().isOpen());
            assertTrue(tls().words().contains("Tried again"), tls().words());
        }
        Waiting.until("the freed port is opened", () -> tls().isOpen());
    }

    private EndpointState tls() {
        return agent.server().endpoints().get(1);
    }

    @Test
    void closingSaysGoodbyeAndDoesNotWaitForAStuckMonitor() throws LinkException {
        Link stuck = connected("stuck");
        for (long tick = 1; tick <= 200; tick++) {
            clock.advanceSeconds(0.1);
            agent.show("north", tick);
            Waiting.millis(1);
        }
        Link good = connected("good");
        assertTimeoutPreemptively(Duration.ofSeconds(3), () -> agent.server().close());
        assertEquals(0, sessions());
        Message last = next(good);
        while (last instanceof Message.Live) {
            last = next(good);
        }
        assertEquals(new Message.Goodbye("the agent stops"), last);
        stuck.close();
    }

    @Test
    void aCommandAtTheMachineAsksAndGetsAnswers() throws IOException {
        Path socket = folder.resolve("agent.sock");
        agent.server().listen("local", () -> LocalLinks.listen(socket), MonitorServer.MAX_LOCAL);
        Waiting.until("the socket is there", () -> Files.exists(socket));
        agent.show("south", 3);
        agent.show("north", 3);
        try (LocalClient client = LocalClient.connect(socket, "test", SystemClock.monotonic())) {
            assertEquals("egg room", client.agent().name());
            assertEquals(
                    List.of(healthy("north", 3, true), healthy("south", 3, true)),
                    client.status().cabinets(),
                    "in the order of the configuration");
            assertEquals(
                    "it is not tripped",
                    client.ask(new Command.ResetCutOff(cabinet("north"))).words());
        }
        Waiting.until("the session ended", () -> sessions() == 0);
    }

    @Test
    void withoutAnAgentACommandSaysWhatToDo() {
        LinkException e =
                assertThrows(
                        LinkException.class,
                        () ->
                                LocalClient.connect(
                                        folder.resolve("none.sock"),
                                        "test",
                                        SystemClock.monotonic()));
        String words = Optional.ofNullable(e.getMessage()).orElse("");
        assertTrue(words.startsWith("no agent answers: "), words);
        assertTrue(words.contains("evenwarm-agent run --config FILE"), words);
    }
}
