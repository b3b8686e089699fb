package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.Retention;
import io.evenwarm.monitor.history.Summaries;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What retention removes, and what it never does. */
class UpkeepOfStoreTest {

    private static final AgentName AGENT = new AgentName("egg room");
    private static final CabinetKey NORTH = new CabinetKey(AGENT, Journal.NORTH);
    private static final TimeSpan ALL = new TimeSpan(Instant.EPOCH, Journal.at(1e9));
    private static final double DAY = 86_400;
    private static final Instant LATER = Journal.at(1000 * DAY);

    private final Path folder;
    private final HistoryStore store;
    private final Journal journal = new Journal();

    UpkeepOfStoreTest(@TempDir Path folder) throws StoreException {
        this.folder = folder;
        store = open(folder);
    }

    HistoryStore open(Path folder) throws StoreException {
        return HistoryStore.open(folder);
    }

    @AfterEach
    void close() {
        store.close();
    }

    private void append() throws StoreException {
        store.append(AGENT, "j", journal.take());
    }

    private void thin(Retention retention, Instant now) throws StoreException {
        int slices = 0;
        while (store.thin(retention, now) > 0) {
            assertTrue(++slices < 100, "it never ends");
        }
    }

    private static Retention days(int readings, int minutes, int tens, int hours, int sixes) {
        return new Retention(readings, List.of(minutes, tens, hours, sixes));
    }

    private int readings() {
        return store.read(
                connection -> {
                    try (Statement statement = connection.createStatement();
                            ResultSet rows =
                                    statement.executeQuery("SELECT count(*) FROM reading")) {
                        rows.next();
                        return rows.getInt(1);
                    }
                });
    }

    /** A connection of another program's. */
    Connection connect(Path folder) throws SQLException {
        return DriverManager.getConnection("jdbc:sqlite:" + folder.resolve(HistoryStore.FILE_NAME));
    }

    private void change(String sql) throws SQLException {
        try (Connection connection = connect(folder);
                Statement statement = connection.createStatement()) {
            statement.execute(sql);
        }
    }

    private Summaries tier(Tier tier) {
        return store.summaries(NORTH, ALL, tier).get(0).summaries();
    }

    @Test
    void eachTierIsKeptForItsOwnTimeAndCurvesOfOldSpansUseTheCoarserOnes() throws StoreException {
        // 40 days, a reading every 10 min; a spike on the second day.
        for (int i = 1; i <= 40 * 144; i++) {
            journal.top(600.0 * i, i == 200 ? 39 : 31);
        }
        append();
        assertEquals(40 * 144, readings());
        thin(days(5, 10, 20, 40, 40), LATER);
        assertEquals(5 * 144, readings(), 36);
        assertEquals(10 * 144, tier(Tier.MINUTE).size(), 36);
        assertEquals(20 * 144, tier(Tier.TEN_MINUTES).size(), 36);
        assertEquals(40 * 24 + 1, tier(Tier.HOUR).size());
        assertEquals(39, tier(Tier.HOUR).greatest(200 / 6));
        TimeSpan lastDays = new TimeSpan(Journal.at(36 * DAY), Journal.at(41 * DAY));
        assertEquals(4 * 144 + 1, store.curves(NORTH, lastDays).probes().get(0).curve().size());
        Curve whole = store.curves(NORTH, ALL).probes().get(0).curve();
        double greatest = 0;
        for (int i = 0; i < whole.size(); i++) {
            greatest = Math.max(greatest, whole.value(i));
        }
        assertEquals(39, greatest, "the spike is drawn though its reading is gone");
        assertEquals(Journal.at(0), store.extent(NORTH).orElseThrow().from());
        assertTrue(store.check().isSound(), store.check().words().toString());
    }

    @Test
    void lateReadingsOfARemovedStretchAreAddedToWhatIsLeftOfIt() throws StoreException {
        Journal other = new Journal();
        for (int i = 0; i <= 100; i++) {
            journal.top(i * DAY + 10, 31);
        }
        append();
        thin(days(5, 5, 5, 100, 100), LATER);
        other.boot(7, 0).top(10 * DAY + 20, 40);
        store.append(AGENT, "found again", other.take());
        assertEquals(31, tier(Tier.HOUR).least(10));
        assertEquals(40, tier(Tier.HOUR).greatest(10));
        assertEquals(2, tier(Tier.HOUR).count(10));
    }

    @Test
    void aWrongClockOnEitherSideRemovesNothingAlone() throws StoreException {
        journal.top(10, 31).top(20, 31);
        append();
        thin(days(1, 1, 1, 1, 1), Journal.at(1e9));
        assertEquals(2, readings(), "the monitor's clock is years ahead");
        journal.top(500 * DAY, 31);
        append();
        thin(days(1, 1, 1, 1, 1), Journal.at(30));
        assertEquals(3, readings(), "the agent's clock is years ahead");
        thin(days(1, 1, 1, 1, 1), Journal.at(500 * DAY));
        assertEquals(1, readings(), "both say so");
    }

    @Test
    void whatHasAProvisionalTimeStaysUntilItsTimeIsKnown() throws StoreException {
        journal.clockWrongBy(-900 * DAY);
        for (int i = 1; i <= 20; i++) {
            journal.top(5 * i, 28);
        }
        append();
        Journal other = new Journal();
        other.boot(3, 0).top(200, 31);
        store.append(AGENT, "other", other.take());
        thin(days(1, 1, 1, 1, 1), LATER);
        assertEquals(21, readings());
        journal.clockSet().top(300, 30);
        append();
        assertEquals(22, readings());
        assertEquals(22, tier(Tier.SIX_HOURS).count(0));
        assertTrue(store.check().isSound(), store.check().words().toString());
    }

    @Test
    void aTierThatSaysAnotherThingThanTheReadingsIsFound() throws StoreException, SQLException {
        for (int i = 1; i <= 100; i++) {
            journal.top(5 * i, 31);
        }
        append();
        assertTrue(store.check().isSound());
        assertEquals(300, store.check().readings());
        change("UPDATE probe_tier SET greatest = 30 WHERE step_seconds = 600");
        change("DELETE FROM heater_tier WHERE step_seconds = 21600");
        StoreReport report = store.check();
        assertFalse(report.isSound());
        assertTrue(
                report.words()
                        .get(0)
                        .startsWith(
                                "probe_tier, probe_id 1, 600 s from 2030-03-01T00:00:00Z: expected"
                                        + " 31.0 to 31.0, sum 3100.0 of 100, 0 bad but found"),
                report.words().toString());
        assertTrue(
                report.words().get(report.words().size() - 1).endsWith("but found 0 bad"),
                report.words().toString());
    }

    @Test
    void aRetentionThatKeepsACoarserTierForShorterIsRefused() {
        IllegalArgumentException refused =
                assertThrows(IllegalArgumentException.class, () -> days(10, 20, 15, 30, 30));
        assertEquals(
                "a tier must be kept for 20 (as long as the finer one) to 36500 days but 15 was"
                        + " given",
                refused.getMessage());
    }
}
