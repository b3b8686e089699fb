package io.evenwarm.monitor.intake;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.link.AgentProof;
import io.evenwarm.link.Identity;
import io.evenwarm.link.KeyPin;
import io.evenwarm.link.LinkException;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Message;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbeSensor;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.evenness.SensorClass;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.HistoryWriter;
import io.evenwarm.monitor.history.JournalPosition;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.live.LiveModel;
import io.evenwarm.monitor.live.Liveness;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoreFile;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The monitor's side of a link, against an agent that does what the test says. */
final class IntakeTest {

    private static final AgentName AGENT = new AgentName("egg room");
    private static final CabinetKey NORTH = new CabinetKey(AGENT, Journal.NORTH);
    private static final Command RESET = new Command.ResetCutOff(Journal.NORTH);
    private static final int SECONDS_MAX = 20;

    private final AtomicLong nanos = new AtomicLong();
    private final HistoryStore store;
    private final LiveModel live = new LiveModel(nanos::get, List.of(AGENT));
    private final ScriptedAgent agent = new ScriptedAgent();
    private HistoryWriter history;
    private Optional<AgentWorker> worker = Optional.empty();
    private Optional<KeyPin> pinned = Optional.empty();

    private final Path folder;

    IntakeTest(@TempDir Path folder) throws StoreException {
        this.folder = folder;
        store = HistoryStore.open(folder);
        history = store;
    }

    @AfterEach
    void end() {
        worker.ifPresent(AgentWorker::stop);
        worker.ifPresent(AgentWorker::stopNow);
        agent.breakLink();
        store.close();
    }

    private AgentWorker start() {
        AgentWorker started =
                new AgentWorker(
                        new IntakeContext("desk", "test", history, live, nanos::get, 1),
                        new AgentAddress(AGENT, "192.0.2.20:4770", pinned, agent),
                        new Backoff(1, 5));
        worker = Optional.of(started);
        Thread thread = new Thread(started, "worker under test");
        thread.setDaemon(true);
        thread.start();
        return started;
    }

    private void passSeconds(double seconds) {
        nanos.addAndGet(Math.round(seconds * 1e9));
    }

    private String words() {
        return live.agents().get(0).words();
    }

    private void awaitWords(String words) {
        Waiting.until(SECONDS_MAX, () -> words().equals(words), () -> "words are " + words());
    }

    private void awaitHeard(Message message) {
        Waiting.until(
                SECONDS_MAX,
                () -> agent.heard().contains(message),
                () -> message + " not among " + agent.heard());
    }

    private long stored(String journal) {
        try {
            return store.lastSequence(AGENT, journal);
        } catch (StoreException e) {
            throw new AssertionError(e);
        }
    }

    private void awaitStored(String journal, long sequence) {
        Waiting.until(
                SECONDS_MAX,
                () -> stored(journal) >= sequence,
                () -> "stored up to " + stored(journal) + "; " + words());
    }

    private static List<JournalRecord> records(int count) {
        Journal journal = new Journal();
        for (int i = 1; i <= count; i++) {
            journal.top(5.0 * i, 31 + i / 1000.0);
        }
        return journal.take();
    }

    private void assertHoldsExactly(int count, String where) {
        Curve curve =
                store.curves(NORTH, new TimeSpan(Instant.EPOCH, Journal.at(1e9)))
                        .probes()
                        .get(0)
                        .curve();
        assertEquals(count, curve.size(), where);
        for (int i = 0; i < count; i++) {
            assertEquals(Journal.at(5.0 * (i + 1)).toEpochMilli(), curve.epochMillis(i), where);
            assertEquals(31 + (i + 1) / 1000.0, curve.value(i), where);
        }
    }

    @Test
    void historyIsCompleteOnceAndInOrderWhereverTheLinkBreaks() {
        long seed = 31_5;
        Random random = new Random(seed);
        List<JournalRecord> all = records(900);
        agent.journal("j1", all.subList(0, 300));
        agent.breaksAfter(() -> 1 + random.nextInt(8));
        start();
        awaitStored("j1", 150);
        agent.add(all.subList(300, 900));
        awaitStored("j1", 900);
        assertTrue(agent.links() > 3, "the link broke " + agent.links() + " times only");
        assertHoldsExactly(900, "seed " + seed);
    }

    @Test
    void aBatchIsAcknowledgedOnceItIsStoredAndNotBefore() {
        AtomicBoolean isFull = new AtomicBoolean(true);
        history = new FailingWriter(store, isFull);
        agent.journal("j1", records(3));
        start();
        awaitWords("connected, but its history can't be stored: the disk is full");
        isFull.set(false);
        assertFalse(agent.heard().contains(new Message.Acknowledge(3)));
        passSeconds(6);
        awaitHeard(new Message.Acknowledge(3));
        awaitWords("connected");
        assertHoldsExactly(3, "after the disk had room again");
        assertEquals(1, agent.links(), "the link stayed up");
    }

    @Test
    void whatAnAgentSaysThatItsProbesAreIsKeptOnceAndWhatItNamesNoMoreIsNotKnown()
            throws StoreException {
        ProbeName top = new ProbeName("top");
        agent.hello(
                new Message.Hello(
                        List.of(1),
                        Message.Hello.Side.AGENT,
                        "egg room",
                        "test",
                        1,
                        Optional.empty(),
                        Optional.empty(),
                        Optional.of(List.of(new ProbeSensor(Journal.NORTH, top, "ds18b20")))));
        start();
        awaitWords("connected");
        ProbeRecord record = record();
        assertEquals(1, record.sensors().size());
        assertEquals(SensorClass.DS18B20, record.sensor(NORTH, top, record.sensors().get(0).at()));
        Instant later = record.sensors().get(0).at().plusSeconds(60);
        store.sensors(AGENT, List.of(new ProbeSensor(Journal.NORTH, top, "ds18b20")), later);
        assertEquals(record, record());
        store.sensors(AGENT, List.of(), later);
        assertEquals(SensorClass.UNKNOWN, record().sensor(NORTH, top, later));
    }

    private ProbeRecord record() throws StoreException {
        return new StoreFile(folder).probeRecord();
    }

    private record FailingWriter(HistoryWriter inner, AtomicBoolean isFull)
            implements HistoryWriter {
        @Override
        public void sensors(AgentName agent, List<ProbeSensor> sensors, Instant now) {}

        @Override
        public long lastSequence(AgentName name, String journal) throws IOException {
            return inner.lastSequence(name, journal);
        }

        @Override
        public Optional<JournalPosition> newestJournal(AgentName name) throws IOException {
            return inner.newestJournal(name);
        }

        @Override
        public void append(AgentName name, String journal, List<JournalRecord> records)
                throws IOException {
            if (isFull.get()) {
                throw new IOException("the disk is full");
            }
            inner.append(name, journal, records);
        }
    }

    @Test
    void aJournalThatBeganAnewIsFetchedFromItsBegin() throws StoreException {
        store.append(AGENT, "j0", new Journal().top(-100, 30).top(-95, 30).take());
        agent.journal("j1", records(1));
        start();
        awaitStored("j1", 1);
        assertEquals(1, stored("j1"));
    }

    @Test
    void aLongJournalThatBeganAnewIsFetchedFromItsBeginToo() throws StoreException {
        Journal old = new Journal();
        for (int i = 0; i < 100; i++) {
            old.top(-1000 + 5 * i, 30);
        }
        store.append(AGENT, "j0", old.take());
        agent.journal("j1", records(300));
        start();
        awaitStored("j1", 300);
        awaitHeard(new Message.HistoryRequest(100));
        awaitHeard(new Message.HistoryRequest(0));
        assertEquals(
                300,
                store.curves(NORTH, new TimeSpan(Journal.at(0), Journal.at(1e9)))
                        .setPointCelsius()
                        .size());
    }

    @Test
    void recordsThatTheAgentNoLongerKeepsHoldUpNothing() throws StoreException {
        store.append(AGENT, "j1", records(10));
        agent.journal("j1", records(100));
        agent.prune(50);
        start();
        awaitStored("j1", 100);
    }

    @Test
    void historyIsAskedForAgainWhenABatchWasLostOnTheWay() {
        agent.losingBatches(true);
        start();
        awaitHeard(new Message.HistoryRequest(0));
        passSecondsAlive(10);
        assertFalse(agent.heard().contains(new Message.HistoryRequest(0)));
        passSecondsAlive(11);
        awaitHeard(new Message.HistoryRequest(0));
        assertEquals(1, agent.links(), words());
    }

    /**
     * Time passes, the agent says something, and the worker has answered: what it asked for in this
     * time is among what the agent heard. Cleared before the time passes, since the worker may act
     * at once.
     */
    private void passSecondsAlive(double seconds) {
        agent.heard().clear();
        passSeconds(seconds);
        try {
            agent.say(new Message.KeepAlive());
        } catch (LinkException e) {
            throw new AssertionError(e);
        }
        awaitHeard(new Message.KeepAlive());
    }

    @Test
    void aJournalOutOfOrderEndsTheLinkAndIsNotStored() throws LinkException {
        start();
        awaitWords("connected");
        List<JournalRecord> records = records(2);
        agent.say(new Message.HistoryBatch("j1", List.of(records.get(1), records.get(0))));
        Waiting.until(SECONDS_MAX, () -> agent.links() > 1, this::words);
        assertEquals(0, stored("j1"));
    }

    @Test
    void anAgentThatSaysNothingIsDroppedAndTriedAgain() {
        // Nothing may be on its way any more when the time passes.
        agent.losingBatches(true);
        start();
        awaitWords("connected");
        awaitHeard(new Message.HistoryRequest(0));
        agent.silent(true);
        passSeconds(16);
        Waiting.until(SECONDS_MAX, () -> agent.links() > 1, this::words);
        agent.silent(false);
    }

    @Test
    void theWordsSayWhyAnAgentCannotBeReachedAndWhenItIsTriedNext() {
        agent.refusing(true);
        live.linkChanged(AGENT, LiveModel.LinkState.down(""));
        AgentWorker slow =
                new AgentWorker(
                        new IntakeContext("desk", "test", history, live, nanos::get, 1),
                        new AgentAddress(AGENT, "192.0.2.20:4770", agent),
                        new Backoff(1, 8000));
        worker = Optional.of(slow);
        Thread thread = new Thread(slow, "worker under test");
        thread.setDaemon(true);
        thread.start();
        Waiting.until(SECONDS_MAX, () -> words().contains("next try"), this::words);
        assertTrue(
                words().matches(
                                "can't reach 192\\.0\\.2\\.20:4770: connection refused; next try in"
                                        + " \\d+ s"),
                words());
        assertFalse(live.agents().get(0).connected());
    }

    @Test
    void anotherAgentAtTheAddressIsRefused() {
        agent.hello(new Message.Hello(List.of(1), Message.Hello.Side.AGENT, "shed", "test", 1));
        awaitRefusal(
                "it calls itself \"shed\", the settings say \"egg room\": correct the name or the"
                        + " address in the settings");
    }

    @Test
    void anAgentOfALaterProtocolIsRefused() {
        agent.hello(
                new Message.Hello(List.of(3, 2), Message.Hello.Side.AGENT, "egg room", "test", 1));
        awaitRefusal(
                "it speaks protocol versions [3, 2], this monitor [1]: update the older of the two");
    }

    @Test
    void anotherMonitorIsNoAgent() {
        agent.hello(
                new Message.Hello(List.of(1), Message.Hello.Side.MONITOR, "egg room", "test", 1));
        awaitRefusal("it is not an agent, but says that it is MONITOR");
    }

    private static Message.Hello provingHello(Optional<Message.KeyProof> proof) {
        return new Message.Hello(
                List.of(1),
                Message.Hello.Side.AGENT,
                "egg room",
                "test",
                1,
                Optional.empty(),
                proof);
    }

    private static Message.Hello answer(Identity key, Message.Hello asked) {
        return provingHello(Optional.of(AgentProof.prove(key, asked.nonce().orElseThrow())));
    }

    private void startWith(Identity key) {
        pinned = Optional.of(key.pin());
    }

    @Test
    void anAgentThatProvesThePinnedKeyIsServed() {
        Identity key = Identity.create("agent");
        startWith(key);
        agent.hellos(asked -> List.of(answer(key, asked))).journal("j1", records(3));
        start();
        awaitStored("j1", 3);
        awaitWords("connected");
    }

    @Test
    void aHelloMeantForTheMonitorBeforeIsPassedOver() {
        Identity key = Identity.create("agent");
        startWith(key);
        agent.hellos(
                        asked ->
                                List.of(
                                        provingHello(Optional.empty()),
                                        provingHello(
                                                Optional.of(
                                                        AgentProof.prove(key, AgentProof.nonce()))),
                                        answer(key, asked)))
                .journal("j1", records(3));
        start();
        awaitStored("j1", 3);
    }

    @Test
    void anotherKeyThanThePinnedOneIsRefusedAtOnce() {
        Identity key = Identity.create("agent");
        Identity other = Identity.create("agent");
        startWith(key);
        agent.hellos(asked -> List.of(answer(other, asked)));
        awaitRefusal(
                "refused: its key is " + other.pin() + ", the settings say " + key.pin() + ". ");
    }

    @Test
    void aRecordedProofIsRefused() {
        Identity key = Identity.create("agent");
        startWith(key);
        AtomicReference<Message.Hello> recorded = new AtomicReference<>();
        agent.hellos(
                asked -> {
                    recorded.compareAndSet(null, answer(key, asked));
                    return List.of(recorded.get());
                });
        start();
        awaitWords("connected");
        // The next session has a nonce of its own.
        agent.breakLink();
        awaitRefusalInTime("refused: its signature is not for this session.");
        assertTrue(agent.links() >= 2, "only " + agent.links() + " links");
    }

    @Test
    void aKeyThatIsNotProvedIsRefused() {
        startWith(Identity.create("agent"));
        agent.hellos(asked -> List.of(provingHello(Optional.empty())));
        start();
        awaitRefusalInTime("it did not prove its key: update the agent,");
    }

    /** The monitor waits for a better hello first. */
    private void awaitRefusalInTime(String why) {
        Waiting.until(
                SECONDS_MAX,
                () -> {
                    passSeconds(0.5);
                    return words().startsWith("can't reach 192.0.2.20:4770: " + why);
                },
                this::words);
    }

    private void awaitRefusal(String why) {
        start();
        Waiting.until(
                SECONDS_MAX,
                () -> words().startsWith("can't reach 192.0.2.20:4770: " + why),
                this::words);
        assertEquals(List.of(), store.cabinets());
    }

    private CommandOutcome outcome(CompletableFuture<CommandOutcome> future) {
        try {
            return future.get(SECONDS_MAX, TimeUnit.SECONDS);
        } catch (InterruptedException | ExecutionException | TimeoutException e) {
            throw new AssertionError(words(), e);
        }
    }

    @Test
    void aCommandComesBackWithTheAgentsOwnAnswer() {
        AgentWorker started = start();
        awaitWords("connected");
        assertEquals(new CommandOutcome.Done("as you wish"), outcome(started.submit(RESET)));
        agent.answers(Optional.of(new CommandOutcome.Refused("still too warm")));
        assertEquals(new CommandOutcome.Refused("still too warm"), outcome(started.submit(RESET)));
        awaitHeard(new Message.CommandRequest(1, RESET));
        awaitHeard(new Message.CommandRequest(2, RESET));
    }

    @Test
    void aCommandWithoutALinkIsRefusedAtOnceWithTheReason() {
        agent.refusing(true);
        AgentWorker started = start();
        Waiting.until(SECONDS_MAX, () -> words().contains("refused"), this::words);
        String refusal = outcome(started.submit(RESET)).words();
        assertTrue(refusal.startsWith("not asked: c"), refusal);
    }

    @Test
    void aCommandWithoutAnAnswerIsGivenUpAndMayStillBeCarriedOut() {
        agent.answers(Optional.empty());
        AgentWorker started = start();
        awaitWords("connected");
        CompletableFuture<CommandOutcome> asked = started.submit(RESET);
        awaitHeard(new Message.CommandRequest(1, RESET));
        passSeconds(10.5);
        assertEquals(
                new CommandOutcome.Refused(
                        "no answer within 10 s. It may still be carried out: look at the cabinet"
                                + " before you ask again"),
                outcome(asked));
    }

    @Test
    void aCommandOnALinkThatBreaksSaysThatItMayHaveBeenCarriedOut() {
        agent.answers(Optional.empty());
        AgentWorker started = start();
        awaitWords("connected");
        CompletableFuture<CommandOutcome> asked = started.submit(RESET);
        awaitHeard(new Message.CommandRequest(1, RESET));
        agent.breakLink();
        assertTrue(
                outcome(asked).words().startsWith("the link was lost before the answer came"),
                outcome(asked).words());
    }

    @Test
    void tooManyWaitingCommandsAreRefused() {
        PendingCommands pending = new PendingCommands();
        pending.open();
        for (int i = 0; i < PendingCommands.WAITING_MAX; i++) {
            assertFalse(pending.add(RESET, 0, "").isDone());
        }
        assertEquals(
                "not asked: too many commands are waiting already",
                outcome(pending.add(RESET, 0, "")).words());
    }

    @Test
    void snapshotsReachTheLiveModelWithTheAgentsClockRate() throws LinkException {
        agent.hello(
                new Message.Hello(List.of(1), Message.Hello.Side.AGENT, "egg room", "test", 60));
        start();
        awaitWords("connected");
        agent.say(new Message.Live(Snapshots.of("north", 7)));
        Waiting.until(SECONDS_MAX, () -> !live.cabinets().isEmpty(), this::words);
        assertEquals(60, live.cabinets().get(0).clockRate());
        assertEquals(Snapshots.of("north", 7), live.cabinets().get(0).snapshot());
        assertEquals(Liveness.LIVE, live.cabinets().get(0).liveness());
        agent.refusing(true);
        agent.breakLink();
        Waiting.until(
                SECONDS_MAX, () -> live.cabinets().get(0).liveness() == Liveness.LOST, this::words);
    }

    @Test
    void anEndingMonitorSaysGoodbye() {
        // An agent that speaks into the closing link would not hear it out.
        agent.losingBatches(true);
        AgentWorker started = start();
        awaitWords("connected");
        started.stop();
        awaitHeard(new Message.Goodbye("the monitor ends"));
    }

    @Test
    void aWorkerThatIsStuckInASendIsFreed() {
        BlockingLink link = new BlockingLink();
        AgentWorker stuck =
                new AgentWorker(
                        new IntakeContext("desk", "test", history, live, nanos::get, 1),
                        new AgentAddress(AGENT, "192.0.2.20:4770", () -> link),
                        new Backoff(1, 30_000));
        worker = Optional.of(stuck);
        Thread thread = new Thread(stuck, "worker under test");
        thread.setDaemon(true);
        thread.start();
        Waiting.until(SECONDS_MAX, link::isSending, this::words);
        stuck.watch(nanos.get());
        assertFalse(link.isClosed());
        passSeconds(15.5);
        stuck.watch(nanos.get());
        Waiting.until(SECONDS_MAX, () -> words().contains("next try"), this::words);
        assertTrue(link.isClosed());
    }

    @Test
    void waitsBetweenTriesDoubleUpToHalfAMinuteAndDifferByChance() {
        Backoff backoff = new Backoff(7);
        long[] usual = {1000, 2000, 4000, 8000, 16_000, 30_000, 30_000, 30_000};
        for (long expected : usual) {
            long wait = backoff.next().toMillis();
            assertTrue(
                    wait >= 0.8 * expected && wait <= 1.2 * expected,
                    wait + " ms instead of about " + expected);
        }
        for (int i = 0; i < 1000; i++) {
            assertTrue(backoff.next().toMillis() <= 36_000);
        }
        backoff.reset();
        assertTrue(backoff.next().toMillis() <= 1200);
        assertEquals(new Backoff(3).next(), new Backoff(3).next(), "one seed, one sequence");
    }
}
