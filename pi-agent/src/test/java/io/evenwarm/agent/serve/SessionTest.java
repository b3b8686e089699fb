package io.evenwarm.agent.serve;

import static io.evenwarm.agent.Snapshots.cabinet;
import static io.evenwarm.agent.Snapshots.healthy;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.Snapshots;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Message;
import io.evenwarm.message.Message.Hello;
import io.evenwarm.message.Moment;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** The session's logic, without threads, links or real time. */
final class SessionTest {

    private final HandClock clock = new HandClock();
    private final SnapshotBoard board =
            new SnapshotBoard(List.of(cabinet("north"), cabinet("south")));
    private final ListJournal journal = new ListJournal();
    private final HeldCommands commands = new HeldCommands();
    private final AtomicInteger wakeups = new AtomicInteger();
    private Moment now = Snapshots.moment(7);
    private Session session = open(true);

    private Session open(boolean speaksFirst) {
        ServeContext context =
                new ServeContext(
                        new AgentName("egg room"),
                        "agent 1",
                        60,
                        () -> now,
                        board,
                        journal,
                        commands,
                        clock,
                        List::of,
                        RunState.NONE);
        return new Session(
                context,
                speaksFirst ? new Peer.Trusted() : new Peer.Line(),
                speaksFirst,
                64,
                wakeups::incrementAndGet,
                clock.nanos());
    }

    private static Hello hello(Hello.Side side, Integer... versions) {
        return new Hello(List.of(versions), side, "desk", "monitor 1", 1);
    }

    private void receive(Message message) {
        session.heard(clock.nanos());
        session.received(message, clock.nanos());
    }

    /** All that the session has to say now. */
    private List<Message> said() {
        List<Message> said = new ArrayList<>();
        for (int i = 0; i < 1000; i++) {
            Optional<Message> message = session.next(clock.nanos());
            if (message.isEmpty()) {
                return said;
            }
            said.add(message.get());
        }
        throw new AssertionError("it never stops talking: " + said.get(999));
    }

    private void greet() {
        receive(hello(Hello.Side.MONITOR, 1));
        said();
    }

    private Message.HistoryBatch onlyBatch() {
        List<Message> said = said();
        assertEquals(1, said.size(), said.toString());
        return (Message.HistoryBatch) said.get(0);
    }

    private static List<Long> sequences(Message.HistoryBatch batch) {
        return batch.records().stream().map(JournalRecord::sequence).toList();
    }

    @Test
    void saysHelloAndNothingElseUntilGreeted() {
        board.published(healthy("north", 1, true));
        List<Message> said = said();
        assertEquals(
                List.of(new Hello(List.of(1), Hello.Side.AGENT, "egg room", "agent 1", 60)), said);
        clock.advanceSeconds(14);
        assertEquals(List.of(), said());
        assertFalse(session.isOver());
    }

    @Test
    void onALineItSpeaksOnlyWhenSpokenTo() {
        session = open(false);
        clock.advanceSeconds(3600);
        assertEquals(List.of(), said());
        assertFalse(session.isOver(), "a line may be idle for ever");
        receive(hello(Hello.Side.MONITOR, 1));
        assertTrue(said().get(0) instanceof Hello);
    }

    @Test
    void aNewerMonitorIsToldWhatToUpdate() {
        said();
        receive(hello(Hello.Side.MONITOR, 3, 2));
        Message.Goodbye goodbye = (Message.Goodbye) said().get(0);
        assertEquals(
                "this agent speaks protocol version 1, you speak [3, 2]: update the older of the"
                        + " two programs",
                goodbye.reason());
        assertTrue(session.isOver());
    }

    @Test
    void aMonitorThatSpeaksBothVersionsIsServed() {
        said();
        receive(hello(Hello.Side.MONITOR, 2, 1));
        assertFalse(session.isOver());
        assertTrue(said().stream().anyMatch(Message.Time.class::isInstance));
    }

    @Test
    void whoSaysNoHelloFirstIsToldTo() {
        said();
        receive(new Message.HistoryRequest(0));
        assertEquals(List.of(new Message.Goodbye("say hello first")), said());
        assertTrue(session.isOver());
    }

    @Test
    void twoAgentsPartAgain() {
        said();
        receive(hello(Hello.Side.AGENT, 1));
        assertTrue(said().get(0) instanceof Message.Goodbye);
    }

    @Test
    void aSlowMonitorGetsTheNewestSnapshotAndNoneOfTheOldOnes() {
        greet();
        for (long tick = 1; tick <= 1000; tick++) {
            board.published(healthy("north", tick, true));
            board.published(healthy("south", tick, true));
        }
        assertEquals(
                List.of(
                        new Message.Live(healthy("north", 1000, true)),
                        new Message.Live(healthy("south", 1000, true))),
                said());
        assertEquals(List.of(), said(), "each goes out once");
    }

    @Test
    void liveSnapshotsOfAFastSimulationArePaced() {
        greet();
        int sent = 0;
        for (long tick = 1; tick <= 600; tick++) {
            board.published(healthy("north", tick, true));
            clock.advanceSeconds(1.0 / 60);
            session.heard(clock.nanos());
            sent += (int) said().stream().filter(Message.Live.class::isInstance).count();
        }
        assertTrue(sent <= 101 && sent >= 80, sent + " snapshots in 10 s");
    }

    @Test
    void aCommandAtTheMachineGetsNoLiveStream() {
        said();
        receive(hello(Hello.Side.LOCAL, 1));
        board.published(healthy("north", 1, true));
        assertEquals(List.of(), said());
        receive(new Message.StatusRequest());
        assertEquals(
                List.of(
                        new Message.Live(healthy("north", 1, true)),
                        new Message.StatusEnd(
                                Optional.empty(), Optional.empty(), Optional.empty())),
                said());
    }

    @Test
    void keepsALinkAliveEveryFiveSeconds() {
        greet();
        clock.advanceSeconds(4.9);
        assertEquals(List.of(), said());
        clock.advanceSeconds(0.1);
        assertEquals(List.of(new Message.KeepAlive()), said());
    }

    @Test
    void aSilentPeerIsGivenUpAfterFifteenSeconds() {
        greet();
        clock.advanceSeconds(15);
        said();
        assertFalse(session.isOver());
        clock.advanceSeconds(0.1);
        assertEquals(List.of(), said());
        assertTrue(session.isOver());
        assertEquals(Optional.of("it said nothing for 15 s"), session.ending());
    }

    @Test
    void whoConnectsAndNeverSaysHelloIsGivenUpToo() {
        said();
        clock.advanceSeconds(15.1);
        said();
        assertTrue(session.isOver());
    }

    @Test
    void tellsItsTimeAtOnceAndEveryMinute() {
        said();
        receive(hello(Hello.Side.MONITOR, 1));
        assertEquals(List.of(new Message.Time(Snapshots.moment(7))), said());
        assertEquals(2, timesAskedIn(120));
    }

    private int timesAskedIn(int seconds) {
        int times = 0;
        for (int i = 0; i < seconds; i++) {
            clock.advanceSeconds(1);
            session.heard(clock.nanos());
            times += (int) said().stream().filter(Message.Time.class::isInstance).count();
        }
        return times;
    }

    private static Moment byAClockThatNobodySet() {
        Moment moment = Snapshots.moment(7);
        return new Moment(moment.boot(), moment.monotonicNanos(), moment.wall(), false);
    }

    /** An answer that was too long on its way is not believed: the next one must not be far. */
    @Test
    void asksForTheTimeEveryTenSecondsUntilItsClockIsSet() {
        now = byAClockThatNobodySet();
        greet();
        assertEquals(6, timesAskedIn(60));
        now = Snapshots.moment(7);
        // It learns of it with the question that is due next.
        assertEquals(3, timesAskedIn(130));
    }

    @Test
    void doesNotAskOftenWhoMayNotTellTheTime() {
        now = byAClockThatNobodySet();
        session = open(false);
        greet();
        assertEquals(2, timesAskedIn(120));
    }

    @Test
    void historyComesInOrderABatchAtATime() {
        journal.commit(150);
        greet();
        receive(new Message.HistoryRequest(10));
        List<Long> got = new ArrayList<>();
        while (got.size() < 140) {
            Message.HistoryBatch batch = onlyBatch();
            assertTrue(batch.records().size() <= 64);
            got.addAll(sequences(batch));
            assertEquals(List.of(), said(), "one batch on its way");
            receive(new Message.Acknowledge(got.get(got.size() - 1)));
        }
        assertEquals(IntStream.rangeClosed(11, 150).mapToObj(i -> (long) i).toList(), got);
        assertEquals(List.of(), said());
        journal.commit(2);
        session.committed();
        assertEquals(List.of(151L, 152L), sequences(onlyBatch()));
    }

    @Test
    void aRequestIsAlwaysAnsweredSoThatTheJournalsNameIsKnown() {
        greet();
        receive(new Message.HistoryRequest(99));
        assertEquals(new Message.HistoryBatch("first", List.of()), onlyBatch());
        assertEquals(List.of(), said(), "once");
        journal.commit(100);
        session.committed();
        assertEquals(List.of(100L), sequences(onlyBatch()));
    }

    @Test
    void aBatchThatIsNotAcknowledgedIsSentAgain() {
        journal.commit(3);
        greet();
        receive(new Message.HistoryRequest(0));
        Message.HistoryBatch first = onlyBatch();
        clock.advanceSeconds(9.9);
        session.heard(clock.nanos());
        assertFalse(said().stream().anyMatch(Message.HistoryBatch.class::isInstance));
        clock.advanceSeconds(0.2);
        assertTrue(said().contains(first));
        receive(new Message.Acknowledge(3));
        assertEquals(List.of(), said());
    }

    /** Or each one that noise takes would cost ten seconds. */
    @Test
    void aBatchIsSentAgainSoonerWhereADamagedFrameMayHaveBeenItsAcknowledgement() {
        journal.commit(3);
        greet();
        session.cameDamaged();
        receive(new Message.HistoryRequest(0));
        Message.HistoryBatch first = onlyBatch();
        clock.advanceSeconds(2);
        assertEquals(List.of(), said(), "what was damaged before has nothing to do with it");
        session.cameDamaged();
        assertEquals(List.of(first), said());
        session.cameDamaged();
        clock.advanceSeconds(0.9);
        assertEquals(List.of(), said(), "noise is not answered by a flood");
        clock.advanceSeconds(0.2);
        assertEquals(List.of(first), said(), "whole, since it may have arrived");
        receive(new Message.Acknowledge(3));
        receive(new Message.Acknowledge(3));
        assertEquals(List.of(), said());
    }

    @Test
    void aLateAcknowledgementOfAnEarlierBatchSkipsNothing() {
        journal.commit(130);
        greet();
        receive(new Message.HistoryRequest(0));
        onlyBatch();
        receive(new Message.Acknowledge(64));
        onlyBatch();
        receive(new Message.Acknowledge(64));
        assertEquals(List.of(), said(), "the second batch is still on its way");
        receive(new Message.Acknowledge(128));
        assertEquals(List.of(129L, 130L), sequences(onlyBatch()));
    }

    @Test
    void anAcknowledgementOfAPartGoesOnBehindThatPart() {
        journal.commit(64);
        greet();
        receive(new Message.HistoryRequest(0));
        onlyBatch();
        receive(new Message.Acknowledge(60));
        assertEquals(List.of(61L, 62L, 63L, 64L), sequences(onlyBatch()));
    }

    @Test
    void aJournalBegunAnewIsSentFromItsStart() {
        journal.commit(20);
        greet();
        receive(new Message.HistoryRequest(0));
        onlyBatch();
        receive(new Message.Acknowledge(20));
        assertEquals(List.of(), said());
        journal.beginAnew("second");
        journal.commit(2);
        session.committed();
        Message.HistoryBatch batch = onlyBatch();
        assertEquals("second", batch.journal());
        assertEquals(List.of(1L, 2L), sequences(batch));
    }

    @Test
    void aJournalThatCantBeReadIsTriedAgain() {
        journal.commit(1);
        journal.fail(true);
        greet();
        receive(new Message.HistoryRequest(0));
        assertEquals(List.of(), said());
        journal.fail(false);
        clock.advanceSeconds(5);
        session.heard(clock.nanos());
        assertTrue(said().stream().anyMatch(Message.HistoryBatch.class::isInstance));
    }

    @Test
    void liveSnapshotsDoNotWaitBehindALongHistory() {
        journal.commit(1000);
        greet();
        receive(new Message.HistoryRequest(0));
        int batches = 0;
        int lives = 0;
        for (long tick = 1; tick <= 10; tick++) {
            board.published(healthy("north", tick, true));
            clock.advanceSeconds(1);
            for (Message message : said()) {
                if (message instanceof Message.HistoryBatch batch) {
                    batches++;
                    receive(
                            new Message.Acknowledge(
                                    batch.records().get(batch.records().size() - 1).sequence()));
                } else if (message instanceof Message.Live) {
                    lives++;
                }
            }
        }
        assertEquals(10, lives);
        assertTrue(batches >= 9, batches + " batches");
    }

    @Test
    void aCommandIsHandedInAndItsOutcomeComesBackUnderItsNumber() {
        greet();
        Command command = new Command.ResetCutOff(cabinet("north"));
        receive(new Message.CommandRequest(77, command));
        assertEquals(List.of(command), commands.commands());
        assertEquals(List.of(), said());
        int before = wakeups.get();
        commands.answerAll(new CommandOutcome.Done("cut-off reset"));
        assertTrue(wakeups.get() > before, "the session's thread is woken");
        assertEquals(
                List.of(new Message.CommandAnswer(77, new CommandOutcome.Done("cut-off reset"))),
                said());
    }

    @Test
    void aFloodOfCommandsIsRefusedAndNotKept() {
        greet();
        for (int id = 1; id <= 20; id++) {
            receive(new Message.CommandRequest(id, new Command.Silence(cabinet("north"))));
        }
        assertEquals(16, commands.commands().size());
        List<Message> refused = said();
        assertEquals(4, refused.size());
        assertEquals(17, ((Message.CommandAnswer) refused.get(0)).id());
        commands.answerAll(new CommandOutcome.Done("silenced"));
        assertEquals(16, said().size());
    }

    @Test
    void saysWhyWhenItEnds() {
        greet();
        session.end("the agent stops");
        assertEquals(List.of(new Message.Goodbye("the agent stops")), said());
        assertTrue(session.isOver());
    }

    @Test
    void aMonitorThatStartsAgainUnseenOnALineIsGreetedAgain() {
        session = open(false);
        journal.commit(1);
        receive(hello(Hello.Side.MONITOR, 1));
        receive(new Message.HistoryRequest(0));
        said();
        receive(hello(Hello.Side.MONITOR, 1));
        List<Message> said = said();
        assertTrue(said.get(0) instanceof Hello);
        clock.advanceSeconds(11);
        session.heard(clock.nanos());
        assertFalse(
                said().stream().anyMatch(Message.HistoryBatch.class::isInstance),
                "it has not asked for history yet");
    }
}
