package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.BootId;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Event;
import io.evenwarm.message.Moment;
import io.evenwarm.message.PreviousRun;
import io.evenwarm.monitor.history.LogEntry;
import io.evenwarm.monitor.history.TimeSpan;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** An outage in the log begins when the agent last lived and ends when it started again. */
final class OutageTimesTest {

    private static final AgentName AGENT = new AgentName("egg room");
    private static final TimeSpan ALL =
            new TimeSpan(Instant.EPOCH, Instant.parse("2100-01-01T00:00:00Z"));
    private static final Instant LAST_ALIVE = Instant.parse("2026-03-29T00:20:00Z");
    private static final Instant START = Instant.parse("2026-03-29T01:40:05Z");

    @TempDir Path folder;

    private static Moment moment(int run, long second, Instant wall, boolean isTrusted) {
        return new Moment(new BootId(new UUID(5, run)), second * 1_000_000_000L, wall, isTrusted);
    }

    private static Event event(
            long sequence, Event.Kind kind, Moment moment, Optional<PreviousRun> previous) {
        return new Event(
                sequence, moment, Optional.empty(), kind, Optional.empty(), "words", previous);
    }

    private static final PreviousRun CUT =
            new PreviousRun(
                    PreviousRun.Ending.POWER_LOSS, Optional.of(moment(1, 900, LAST_ALIVE, true)));

    /** The run after the cut: what the agent sends, and what of it is dated when. */
    private List<LogEntry> logOf(JournalRecord... afterTheCut) throws IOException {
        try (HistoryStore store = HistoryStore.open(folder)) {
            store.append(
                    AGENT,
                    "j1",
                    List.of(
                            event(
                                    1,
                                    Event.Kind.AGENT_STARTED,
                                    moment(1, 0, LAST_ALIVE.minusSeconds(900), true),
                                    Optional.empty())));
            for (JournalRecord each : afterTheCut) {
                store.append(AGENT, "j1", List.of(each));
            }
            return store.log(Optional.empty(), ALL, 100);
        }
    }

    private static LogEntry entry(List<LogEntry> log, String words) {
        return log.stream()
                .filter(each -> each.words().startsWith(words))
                .reduce(
                        (one, other) -> {
                            throw new AssertionError("twice: " + log);
                        })
                .orElseThrow(() -> new AssertionError(words + " is not in " + log));
    }

    private void assertOutageIsRight(Duration error) throws IOException {
        List<LogEntry> log =
                logOf(
                        event(
                                2,
                                Event.Kind.AGENT_STARTED,
                                moment(2, 3, START.plus(error), false),
                                Optional.of(CUT)),
                        event(
                                3,
                                Event.Kind.SILENCED,
                                moment(2, 603, START.plusSeconds(600), true),
                                Optional.empty()));
        LogEntry outage = entry(log, "agent not running: the power failed");
        assertEquals(LAST_ALIVE, outage.begin());
        assertEquals(Optional.of(START), outage.end());
        assertTrue(
                entry(log, "clock set: ")
                        .words()
                        .endsWith(
                                (error.isNegative() ? "later" : "earlier")
                                        + " than its clock showed then"));
    }

    /** Over the beginning of summer time in Berlin, which changes nothing. */
    @Test
    void afterAClockThatWasHoursBehindIsSetForward() throws IOException {
        assertOutageIsRight(Duration.ofHours(-5));
    }

    @Test
    void afterAClockThatWasHoursAheadIsSetBack() throws IOException {
        assertOutageIsRight(Duration.ofHours(7));
    }

    @Test
    void whenTheAgentItselfHadCorrectedItsTimesBeforeItSentThem() throws IOException {
        List<LogEntry> log =
                logOf(
                        event(
                                2,
                                Event.Kind.AGENT_STARTED,
                                moment(2, 3, START.minus(Duration.ofMinutes(192)), false)
                                        .corrected(START),
                                Optional.of(CUT)));
        LogEntry outage = entry(log, "agent not running: the power failed");
        assertEquals(LAST_ALIVE, outage.begin());
        assertEquals(Optional.of(START), outage.end());
        assertEquals(
                "clock set: what the agent recorded in this time is dated 3:12:00 h later than its"
                        + " clock showed then",
                entry(log, "clock set: ").words());
    }

    /**
     * A monitor comes, reads the journal, and tells the time; then comes what was recorded since.
     */
    @Test
    void whenTheMonitorHadStoredSomeOfTheRunBeforeTheAgentCorrectedTheRest() throws IOException {
        Duration behind = Duration.ofHours(5);
        List<LogEntry> log =
                logOf(
                        event(
                                2,
                                Event.Kind.AGENT_STARTED,
                                moment(2, 3, START.minus(behind), false),
                                Optional.of(CUT)),
                        event(
                                3,
                                Event.Kind.SILENCED,
                                moment(2, 603, START.plusSeconds(600).minus(behind), false)
                                        .corrected(START.plusSeconds(600)),
                                Optional.empty()),
                        event(
                                4,
                                Event.Kind.SILENCED,
                                moment(2, 608, START.plusSeconds(605), true),
                                Optional.empty()));
        LogEntry line = entry(log, "clock set: ");
        assertEquals(START, line.begin(), "the first corrected time");
        assertEquals(Optional.of(START.plusSeconds(600)), line.end(), "the last one");
        assertTrue(line.words().contains("is dated 5:00:00 h later"), line.words());
    }

    @Test
    void anEndThatSomebodyWantedIsNoOutage() throws IOException {
        List<LogEntry> log =
                logOf(
                        event(
                                2,
                                Event.Kind.AGENT_STARTED,
                                moment(2, 3, START, true),
                                Optional.of(
                                        new PreviousRun(
                                                PreviousRun.Ending.ORDERLY, CUT.lastAlive()))));
        assertTrue(
                log.stream().noneMatch(each -> each.words().contains("not running")),
                log::toString);
    }
}
