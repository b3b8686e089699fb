package io.evenwarm.agent.journal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.HandClock;
import io.evenwarm.agent.Snapshots;
import io.evenwarm.message.BootId;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Event;
import io.evenwarm.message.Moment;
import io.evenwarm.message.PreviousRun;
import io.evenwarm.message.PreviousRun.Ending;
import java.io.IOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.TimeZone;
import java.util.UUID;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What the journal tells of times: of a clock that is set late, and of how the last run ended. */
final class JournalTimesTest {

    private static final Instant EVENING = Instant.parse("2026-03-01T18:00:00Z");
    private static final Optional<String> MONDAY = Optional.of("machine-boot-1");
    private static final Optional<String> TUESDAY = Optional.of("machine-boot-2");
    private static final TimeZone ZONE = TimeZone.getDefault();

    @TempDir Path folder;

    private final HandClock clock = new HandClock();

    @AfterEach
    void zoneAsBefore() {
        TimeZone.setDefault(ZONE);
    }

    private Path file() {
        return folder.resolve("journal.sqlite");
    }

    /** One run of the agent, second by second, with its own clocks. */
    private final class Run implements AutoCloseable {
        private final BootId boot;
        private final Instant begin;
        private final Journal journal;
        private long second;
        private Duration error = Duration.ZERO;
        private boolean isTrusted = true;

        Run(int number, Instant begin) {
            this.boot = boot(number);
            this.begin = begin;
            this.journal =
                    new Journal(
                            new JournalSettings(file(), 5, 10, 400, 2_000_000_000L), clock, clock);
        }

        Run clockWrongBy(Duration wrong) {
            this.error = wrong;
            this.isTrusted = false;
            return this;
        }

        void clockSet() {
            error = Duration.ZERO;
            isTrusted = true;
        }

        Moment moment() {
            return new Moment(
                    boot,
                    second * 1_000_000_000L,
                    begin.plusSeconds(second).plus(error),
                    isTrusted);
        }

        Run start(RunStart start) {
            journal.agentStarted(moment(), "agent started", start);
            journal.step(clock.nanos());
            return this;
        }

        Run seconds(int count) {
            for (int i = 0; i < count; i++) {
                second++;
                journal.published(
                        Snapshots.at(Snapshots.healthy("north", second, false), moment()));
                journal.step(clock.advanceSeconds(1));
            }
            return this;
        }

        void stop() {
            journal.agentStopped(moment(), "agent stopped");
            close();
        }

        List<JournalRecord> records() throws IOException {
            return JournalTest.all(journal);
        }

        @Override
        public void close() {
            journal.close();
        }
    }

    private static BootId boot(int number) {
        return new BootId(new UUID(9, number));
    }

    private static RunStart on(Optional<String> machine) {
        return new RunStart(machine, Optional.empty());
    }

    private static Event startOf(List<JournalRecord> records, int run) {
        return records.stream()
                .filter(each -> each.moment().boot().equals(boot(run)))
                .filter(Event.class::isInstance)
                .map(Event.class::cast)
                .filter(each -> each.kind() == Event.Kind.AGENT_STARTED)
                .findFirst()
                .orElseThrow();
    }

    private static PreviousRun previousIn(List<JournalRecord> records, int run) {
        return startOf(records, run).previousRun().orElseThrow();
    }

    private void assertCorrected(Duration error) throws IOException, SQLException {
        try (Run run = new Run(1, EVENING).clockWrongBy(error).start(on(MONDAY)).seconds(600)) {
            for (JournalRecord each : run.records()) {
                assertFalse(each.moment().wallTrusted());
                assertEquals(Optional.empty(), each.moment().recordedWall());
            }
            run.clockSet();
            run.seconds(60);
            List<JournalRecord> records = run.records();
            for (JournalRecord each : records) {
                Moment moment = each.moment();
                assertEquals(
                        EVENING.plusNanos(moment.monotonicNanos()), moment.wall(), "right by now");
                assertTrue(moment.wallTrusted());
                boolean isBefore = moment.monotonicNanos() <= 600_000_000_000L;
                assertEquals(
                        isBefore ? Optional.of(moment.wall().plus(error)) : Optional.empty(),
                        moment.recordedWall(),
                        "what the clock showed stays");
            }
            assertTrue(records.size() >= 1 + 600 / 5 + 40 / 5, records.size() + " records");
            assertRowsAreAsRecorded(error);
        }
    }

    /** Nothing was written anew: the rows are as they were, and the view shows both times. */
    private void assertRowsAreAsRecorded(Duration error) throws SQLException {
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file());
                Statement statement = connection.createStatement();
                ResultSet row =
                        statement.executeQuery(
                                "SELECT wall_millis, recorded_wall_millis, wall_trusted"
                                        + " FROM record_time ORDER BY sequence LIMIT 1")) {
            assertTrue(row.next());
            assertEquals(EVENING.toEpochMilli(), row.getLong(1));
            assertEquals(EVENING.plus(error).toEpochMilli(), row.getLong(2));
            assertEquals(0, row.getInt(3));
        }
    }

    @Test
    void aClockThatWasHoursBehindAndIsSetForwardDatesTheRecordsBefore()
            throws IOException, SQLException {
        assertCorrected(Duration.ofHours(-5).plusMillis(250));
    }

    @Test
    void aClockThatWasHoursAheadAndIsSetBackDatesTheRecordsBefore()
            throws IOException, SQLException {
        assertCorrected(Duration.ofHours(7).plusMinutes(3));
    }

    @Test
    void aClockThatBeganIn1970DatesTheRecordsBefore() throws IOException, SQLException {
        assertCorrected(Duration.between(EVENING, Instant.EPOCH));
    }

    @Test
    void recordsAreDatedStillWhenTheJournalIsOpenedAnew() throws IOException {
        Duration error = Duration.ofHours(-5);
        Run first = new Run(1, EVENING).clockWrongBy(error).start(on(MONDAY)).seconds(30);
        first.clockSet();
        first.seconds(20).close();
        try (Run second = new Run(2, EVENING.plusSeconds(3600)).start(on(TUESDAY))) {
            Moment begin = second.records().get(0).moment();
            assertEquals(EVENING, begin.wall());
            assertEquals(Optional.of(EVENING.plus(error)), begin.recordedWall());
        }
    }

    @Test
    void aRunWhoseClockWasNeverSetStaysAsItWasRecorded() throws IOException {
        Duration error = Duration.ofHours(-5);
        new Run(1, EVENING).clockWrongBy(error).start(on(MONDAY)).seconds(30).close();
        try (Run second = new Run(2, EVENING.plusSeconds(3600)).start(on(TUESDAY)).seconds(20)) {
            Moment first = second.records().get(0).moment();
            assertEquals(EVENING.plus(error), first.wall());
            assertFalse(first.wallTrusted());
            assertEquals(
                    Optional.empty(),
                    second.journal.lastTrustedBefore(),
                    "what nobody vouched for is no bound");
        }
    }

    @Test
    void anAgentThatDiedBeforeItsClockWasSetIsDatedByTheNextOnTheSameBootOfTheMachine()
            throws IOException {
        Duration error = Duration.ofHours(-5);
        new Run(1, EVENING).clockWrongBy(error).start(on(MONDAY)).seconds(30).close();
        Run second = new Run(2, EVENING).clockWrongBy(error);
        second.second = 40;
        try (second) {
            second.start(on(MONDAY)).seconds(20);
            second.clockSet();
            second.seconds(20);
            for (JournalRecord each : second.records()) {
                assertEquals(
                        EVENING.plusNanos(each.moment().monotonicNanos()), each.moment().wall());
            }
            assertEquals(Ending.CRASH, previousIn(second.records(), 2).ending());
        }
    }

    /** Summer time began in Berlin at 01:00 UTC that day, and ended at 01:00 UTC on 25 October. */
    @Test
    void daylightSavingMovesNoRecord() throws IOException {
        TimeZone.setDefault(TimeZone.getTimeZone("Europe/Berlin"));
        int run = 0;
        for (String change : List.of("2026-03-29T01:00:00Z", "2026-10-25T01:00:00Z")) {
            run++;
            Instant begin = Instant.parse(change).minusSeconds(300);
            try (Run through = new Run(run, begin).start(on(MONDAY)).seconds(600)) {
                List<JournalRecord> records = through.records();
                JournalTest.assertNumberedFromOne(records);
                int seen = 0;
                for (JournalRecord each : records) {
                    Moment moment = each.moment();
                    if (moment.boot().equals(boot(run))) {
                        seen++;
                        assertEquals(begin.plusNanos(moment.monotonicNanos()), moment.wall());
                    }
                }
                assertTrue(seen > 100, seen + " records");
            }
        }
    }

    @Test
    void theFirstStartTellsOfNoRunBefore() throws IOException {
        try (Run run = new Run(1, EVENING).start(on(MONDAY))) {
            assertEquals(Optional.empty(), startOf(run.records(), 1).previousRun());
            assertEquals(Optional.empty(), run.journal.previousRun());
        }
    }

    @Test
    void aRunThatWasStoppedEndedInOrder() throws IOException {
        Run first = new Run(1, EVENING).start(on(MONDAY)).seconds(32);
        Moment end = first.moment();
        first.stop();
        try (Run second = new Run(2, EVENING.plusSeconds(60)).start(on(TUESDAY))) {
            assertEquals(
                    new PreviousRun(Ending.ORDERLY, Optional.of(end)),
                    previousIn(second.records(), 2));
        }
    }

    @Test
    void ofThreeBootsInOneMinuteEachTellsHowTheOneBeforeEnded() throws IOException {
        new Run(1, EVENING).start(on(MONDAY)).seconds(31).close();
        new Run(2, EVENING.plusSeconds(40)).start(on(MONDAY)).seconds(2).close();
        try (Run third = new Run(3, EVENING.plusSeconds(55)).start(on(TUESDAY)).seconds(11)) {
            List<JournalRecord> records = third.records();
            JournalTest.assertNumberedFromOne(records);
            PreviousRun crash = previousIn(records, 2);
            assertEquals(Ending.CRASH, crash.ending());
            assertEquals(boot(1), crash.lastAlive().orElseThrow().boot());
            assertEquals(EVENING.plusSeconds(31), crash.lastAlive().orElseThrow().wall());
            PreviousRun cut = previousIn(records, 3);
            assertEquals(Ending.POWER_LOSS, cut.ending());
            assertEquals(boot(2), cut.lastAlive().orElseThrow().boot());
            assertEquals(Optional.of(cut), third.journal.previousRun());
            assertEquals(
                    Optional.of(cut.lastAlive().orElseThrow().wall()),
                    third.journal.lastTrustedBefore());
            assertEquals(
                    "agent started; the run before: the power failed", startOf(records, 3).words());
        }
    }

    @Test
    void withoutTheKernelsWordNobodyKnowsWhetherItWasACrash() throws IOException {
        new Run(1, EVENING).start(on(Optional.empty())).seconds(31).close();
        try (Run second = new Run(2, EVENING.plusSeconds(60)).start(on(TUESDAY))) {
            assertEquals(Ending.UNKNOWN, previousIn(second.records(), 2).ending());
        }
    }

    @Test
    void aNoteThatIsNewerThanTheJournalTellsWhenTheRunLastLivedAndThatItEnded() throws IOException {
        Run first = new Run(1, EVENING).start(on(MONDAY)).seconds(31);
        first.close();
        first.second = 300;
        RunStart later = noted(MONDAY, false, first.moment());
        try (Run second = new Run(2, EVENING.plusSeconds(600)).start(later)) {
            assertEquals(
                    new PreviousRun(Ending.POWER_LOSS, Optional.of(first.moment())),
                    previousIn(second.records(), 2));
        }
        RunStart ended = noted(TUESDAY, true, new Run(2, EVENING).moment());
        try (Run third = new Run(3, EVENING.plusSeconds(900)).start(ended)) {
            assertEquals(Ending.ORDERLY, previousIn(third.records(), 3).ending());
        }
    }

    private static RunStart noted(Optional<String> machine, boolean hasEnded, Moment lastAlive) {
        return new RunStart(
                TUESDAY,
                Optional.of(new RunStart.Earlier(machine, hasEnded, Optional.of(lastAlive))));
    }

    @Test
    void aNoteOfARunThatTheJournalNeverSawCountsAndOneOfAnOlderRunDoesNot() throws IOException {
        new Run(1, EVENING).start(on(MONDAY)).seconds(31).close();
        Moment unseen = new Run(2, EVENING.plusSeconds(100)).moment();
        try (Run third =
                new Run(3, EVENING.plusSeconds(600)).start(noted(TUESDAY, false, unseen))) {
            assertEquals(
                    new PreviousRun(Ending.CRASH, Optional.of(unseen)),
                    previousIn(third.records(), 3));
        }
        Moment old = new Run(1, EVENING).moment();
        try (Run fourth = new Run(4, EVENING.plusSeconds(900)).start(noted(MONDAY, true, old))) {
            PreviousRun previous = previousIn(fourth.records(), 4);
            assertEquals(boot(3), previous.lastAlive().orElseThrow().boot());
            assertEquals(Ending.CRASH, previous.ending());
        }
    }

    /** The tables are made as the first version made them. */
    @Test
    void aJournalOfTheFirstVersionGoesOnWithItsNumbers() throws IOException, SQLException {
        new Run(1, EVENING).start(on(MONDAY)).seconds(31).close();
        try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file());
                Statement statement = connection.createStatement()) {
            statement.execute("DROP VIEW record_time");
            statement.execute("ALTER TABLE boot DROP COLUMN machine");
            statement.execute("ALTER TABLE boot DROP COLUMN trusted_offset_millis");
            statement.execute("PRAGMA user_version = 1");
        }
        try (Run second = new Run(2, EVENING.plusSeconds(60)).start(on(TUESDAY)).seconds(11)) {
            List<JournalRecord> records = second.records();
            JournalTest.assertNumberedFromOne(records);
            assertEquals(EVENING, records.get(0).moment().wall());
            PreviousRun previous = previousIn(records, 2);
            assertEquals(Ending.UNKNOWN, previous.ending(), "the first version kept no boot");
            assertEquals(EVENING.plusSeconds(31), previous.lastAlive().orElseThrow().wall());
        }
    }
}
