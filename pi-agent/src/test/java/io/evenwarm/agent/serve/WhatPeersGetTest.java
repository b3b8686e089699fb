package io.evenwarm.agent.serve;

import static io.evenwarm.agent.Snapshots.cabinet;
import static io.evenwarm.agent.Snapshots.healthy;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.HandClock;
import io.evenwarm.link.AgentProof;
import io.evenwarm.link.Identity;
import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.MemoryLinks;
import io.evenwarm.link.SignedCommands;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.Message;
import io.evenwarm.message.Message.Hello;
import io.evenwarm.message.Role;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

/**
 * What each kind of peer tried and got: every peer tries everything, and the whole table is
 * compared with {@code what-peers-get.approved.txt}.
 */
final class WhatPeersGetTest {

    private static final Identity LOOKER = Identity.create("looker");
    private static final Identity OPERATOR = Identity.create("operator");
    private static final Identity STRANGER = Identity.create("stranger");
    private static final Command SILENCE = new Command.Silence(cabinet("north"));

    private final HandClock clock = new HandClock();
    private final SnapshotBoard board = new SnapshotBoard(List.of(cabinet("north")));
    private final ListJournal journal = new ListJournal();
    private final HeldCommands commands = new HeldCommands();
    private final ListedMonitors monitors =
            new ListedMonitors().with(LOOKER.pin(), Role.LOOK).with(OPERATOR.pin(), Role.OPERATE);
    private final PairingDesk desk =
            new PairingDesk(new AgentName("egg room"), monitors, () -> AgentRig.IDENTITY, clock);
    private final ServeContext context =
            AgentRig.context(board, journal, commands, clock, RunState.NONE, desk);
    private PairingDesk.Window window = desk.open(Role.LOOK, () -> {});

    @AfterEach
    void shut() {
        window.close();
    }

    /** Who tries: how it comes, and whose key it signs with. */
    private record Who(Peer peer, boolean speaksFirst, Identity key) {}

    private static Map<String, Who> peers() {
        Map<String, Who> peers = new LinkedHashMap<>();
        peers.put(
                "TLS, not paired, while pairing is open",
                new Who(new Peer.Keyed(STRANGER.pin()), true, STRANGER));
        peers.put("TLS, look", new Who(new Peer.Keyed(LOOKER.pin()), true, LOOKER));
        peers.put("TLS, operate", new Who(new Peer.Keyed(OPERATOR.pin()), true, OPERATOR));
        peers.put("serial, not paired", new Who(new Peer.Line(), false, STRANGER));
        peers.put("serial, look", new Who(new Peer.Line(), false, LOOKER));
        peers.put("serial, operate", new Who(new Peer.Line(), false, OPERATOR));
        return peers;
    }

    /** One peer's session, to which it says one thing after another. */
    private final class Talk implements AutoCloseable {
        private final Session session;
        private final MemoryLinks.Pair wire = MemoryLinks.pair();
        private final Link signer;

        Talk(Who who) {
            session =
                    new Session(
                            context, who.peer(), who.speaksFirst(), 64, () -> {}, clock.nanos());
            signer = SignedCommands.signing(wire.left(), who.key());
        }

        List<Message> say(Message... messages) {
            List<Message> heard = new ArrayList<>(rest());
            for (Message message : messages) {
                session.heard(clock.nanos());
                if (session.isReadyForMore()) {
                    session.received(message, clock.nanos());
                }
                commands.answerAll(new CommandOutcome.Done("silenced"));
                heard.addAll(rest());
            }
            return heard;
        }

        private List<Message> rest() {
            List<Message> all = new ArrayList<>();
            Optional<Message> next = session.next(clock.nanos());
            while (next.isPresent()) {
                all.add(next.get());
                next = session.next(clock.nanos());
            }
            return all;
        }

        /** As the monitor's own link would sign it after what the agent has said. */
        Message signed(List<Message> heard, long id) throws LinkException {
            for (Message each : heard) {
                if (each instanceof Message.Challenge) {
                    wire.right().send(each);
                    assertTrue(signer.receive(Duration.ofSeconds(20)).isPresent());
                }
            }
            signer.send(new Message.CommandRequest(id, SILENCE));
            return wire.right().receive(Duration.ofSeconds(20)).orElseThrow();
        }

        @Override
        public void close() {
            session.close();
            wire.left().close();
            wire.right().close();
        }
    }

    private static Hello hello() {
        return new Hello(List.of(1), Hello.Side.MONITOR, "desk", "monitor 1", 1);
    }

    @Test
    void eachPeerGetsWhatItsRoleAllowsAndNothingElse() throws IOException {
        journal.commit(2);
        board.published(healthy("north", 1, true));
        StringBuilder table = new StringBuilder();
        for (Map.Entry<String, Who> each : peers().entrySet()) {
            // Each has the five tries of a window to itself.
            window.close();
            window = desk.open(Role.LOOK, () -> {});
            for (String row : rows(each.getValue())) {
                table.append(each.getKey()).append(" | ").append(row).append('\n');
            }
        }
        System.out.print("kept-5 what peers tried and got:\n" + table);
        assertEquals(approved(), table.toString());
    }

    private List<String> rows(Who who) throws LinkException {
        List<String> rows = new ArrayList<>();
        try (Talk talk = new Talk(who)) {
            rows.add("connects | " + words(talk.say()));
        }
        try (Talk talk = new Talk(who)) {
            rows.add("says hello | " + words(talk.say(hello())));
        }
        rows.add("asks for history | " + afterHello(who, new Message.HistoryRequest(0)));
        rows.add("asks how all is | " + afterHello(who, new Message.StatusRequest()));
        rows.add("gives a command | " + afterHello(who, new Message.CommandRequest(1, SILENCE)));
        if (!who.speaksFirst()) {
            rows.addAll(rowsOfSigned(who));
        }
        rows.add("opens pairing | " + afterHello(who, new Message.PairOpen(Role.OPERATE)));
        try (Talk talk = new Talk(who)) {
            rows.add(
                    "asks with another's key | "
                            + words(
                                    talk.say(
                                            new Message.PairRequest(
                                                    "desk", AgentRig.IDENTITY.publicKey()))));
        }
        try (Talk talk = new Talk(who)) {
            rows.add(
                    "asks to be paired | "
                            + words(
                                    talk.say(
                                            new Message.PairRequest("desk", who.key().publicKey()),
                                            new Message.PairNonce("44".repeat(32)),
                                            new Message.PairConfirm(false))));
        }
        return rows;
    }

    /** Only on a line is there a challenge to sign. */
    private List<String> rowsOfSigned(Who who) throws LinkException {
        List<String> rows = new ArrayList<>();
        try (Talk talk = new Talk(who)) {
            Message command = talk.signed(talk.say(hello()), 2);
            rows.add("gives it signed | " + words(talk.say(command)));
            rows.add("sends that once more | " + words(talk.say(command)));
            try (Talk later = new Talk(who)) {
                later.say(hello());
                rows.add("sends it in a later session | " + words(later.say(command)));
            }
        }
        return rows;
    }

    private String afterHello(Who who, Message message) {
        int before = commands.commands().size();
        try (Talk talk = new Talk(who)) {
            List<Message> greeting = talk.say(hello());
            String got = words(talk.say(message));
            boolean wasGiven = commands.commands().size() > before;
            boolean isEnded = greeting.stream().anyMatch(each -> each instanceof Message.Goodbye);
            return (isEnded ? "nothing: it was sent away at its hello" : got)
                    + (wasGiven ? " (done)" : "");
        }
    }

    private static String words(List<Message> heard) {
        List<String> words = new ArrayList<>();
        for (Message each : heard) {
            if (each instanceof Message.Hello said) {
                words.add("hello of \"" + said.name() + "\"");
            } else if (each instanceof Message.HistoryBatch batch) {
                words.add("history of " + batch.records().size());
            } else if (each instanceof Message.CommandAnswer answer) {
                words.add(answer.outcome().words());
            } else if (each instanceof Message.PairResult result) {
                words.add("result: " + result.outcome().words());
            } else if (each instanceof Message.Goodbye goodbye) {
                words.add("goodbye: " + goodbye.reason());
            } else {
                words.add(each.getClass().getSimpleName());
            }
        }
        return words.isEmpty() ? "nothing" : String.join(", ", words);
    }

    private static String approved() throws IOException {
        try (InputStream in =
                WhatPeersGetTest.class.getResourceAsStream("what-peers-get.approved.txt")) {
            return in == null ? "" : new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
    }

    /** Whatever it asks for, a stranger never hears a name, a version or a cabinet. */
    @Test
    void nothingThatAStrangerIsToldNamesTheAgent() {
        board.published(healthy("north", 1, true));
        Who who = new Who(new Peer.Keyed(STRANGER.pin()), true, STRANGER);
        List<Message> heard = new ArrayList<>();
        for (Message try1 :
                List.of(
                        hello(),
                        new Message.StatusRequest(),
                        new Message.HistoryRequest(0),
                        new Message.PairRequest("desk", STRANGER.publicKey()),
                        new Message.PairNonce("44".repeat(32)))) {
            try (Talk talk = new Talk(who)) {
                heard.addAll(talk.say(try1));
            }
        }
        String all = heard.toString();
        for (String secret : List.of("egg room", "agent 1", "north", "versions")) {
            assertFalse(all.contains(secret), secret + " in " + all);
        }
        assertTrue(all.contains("PairCommit"), all);
    }

    @Test
    void aStrangerWhoAsksForNothingIsSentAway() {
        Who who = new Who(new Peer.Keyed(STRANGER.pin()), true, STRANGER);
        try (Talk talk = new Talk(who)) {
            clock.advanceSeconds(10);
            assertEquals("nothing", words(talk.say(new Message.KeepAlive())));
            clock.advanceSeconds(1);
            assertEquals("goodbye: not paired", words(talk.say()));
        }
        try (Talk talk = new Talk(who)) {
            window.close();
            assertEquals("goodbye: not paired", words(talk.say()));
        }
    }

    @Test
    void aMonitorThatIsTakenOutLosesItsSessionWithinFiveSeconds() {
        Who who = new Who(new Peer.Keyed(OPERATOR.pin()), true, OPERATOR);
        try (Talk talk = new Talk(who)) {
            talk.say(hello());
            monitors.remove(OPERATOR.pin());
            assertEquals(
                    "not done: this monitor is not paired with the agent, and may look only. To"
                            + " pair it: evenwarm-agent pair",
                    words(talk.say(new Message.CommandRequest(1, SILENCE))),
                    "its commands count at once no more");
            clock.advanceSeconds(6);
            assertTrue(
                    words(talk.say())
                            .endsWith(
                                    "goodbye: this monitor is not paired with the agent any more"));
            assertEquals(List.of(), commands.commands());
        }
    }

    /** TLS has proved the key already; on a line the hello does, for whoever asks. */
    @Test
    void onALineTheAgentProvesItsKeyInTheHelloThatAnswersANonce() {
        String nonce = "5a".repeat(Message.NONCE_OCTETS);
        Hello asking =
                new Hello(
                        List.of(1),
                        Hello.Side.MONITOR,
                        "desk",
                        "monitor 1",
                        1,
                        Optional.of(nonce),
                        Optional.empty());
        try (Talk talk = new Talk(new Who(new Peer.Line(), false, STRANGER))) {
            Hello answer = (Hello) talk.say(asking).get(0);
            assertEquals(
                    Optional.of(AgentRig.IDENTITY.pin()),
                    answer.proof().flatMap(AgentProof::claimed));
            assertTrue(AgentProof.holds(answer.proof().orElseThrow(), nonce));
            Hello unasked = (Hello) talk.say(hello()).get(0);
            assertEquals(Optional.empty(), unasked.proof());
        }
        try (Talk talk = new Talk(new Who(new Peer.Keyed(OPERATOR.pin()), true, OPERATOR))) {
            List<Message> heard = talk.say(asking);
            assertTrue(
                    heard.stream()
                            .filter(Hello.class::isInstance)
                            .allMatch(each -> ((Hello) each).proof().isEmpty()),
                    heard.toString());
        }
    }
}
