package io.evenwarm.monitor.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.monitor.history.TimeSpan;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A server that can't be used says why and what to do; earlier stores on it are brought along. */
@NeedsPostgres
final class PostgresTroubleTest {

    private static final AgentName AGENT = new AgentName("egg room");

    private final String url;

    PostgresTroubleTest(@TempDir Path folder) {
        url = Postgres.urlOf(folder);
    }

    private void sql(String... statements) throws SQLException {
        try (Connection connection = DriverManager.getConnection(url);
                Statement statement = connection.createStatement()) {
            for (String sql : statements) {
                statement.execute(sql);
            }
        }
    }

    private static String refusal(String url) {
        return String.valueOf(
                assertThrows(StoreException.class, () -> HistoryStore.openAt(url)).getMessage());
    }

    private String where() {
        return url.substring(0, url.indexOf('?'));
    }

    @Test
    void aSecondMonitorIsKeptAwayUntilTheFirstEnds() throws StoreException {
        try (HistoryStore first = HistoryStore.openAt(url)) {
            assertEquals(
                    "another monitor is using "
                            + where()
                            + ": end it, or give this one a database of its own",
                    refusal(url));
            assertEquals(0, first.lastSequence(AGENT, "j"), "the first one works on");
        }
        HistoryStore.openAt(url).close();
    }

    @Test
    void anotherProgramsDatabaseIsRefusedAndKept() throws SQLException {
        sql("CREATE TABLE recipe (name TEXT)");
        assertEquals(
                where()
                        + " holds 1 tables of another program and no store. Give the monitor a"
                        + " database of its own",
                refusal(url));
        sql("DROP TABLE recipe");
    }

    @Test
    void aStoreOfANewerVersionIsRefused() throws SQLException, StoreException {
        HistoryStore.openAt(url).close();
        sql("UPDATE store_version SET version = 99");
        assertTrue(refusal(url).contains("was written by a newer Evenwarm (store version 99;"));
    }

    @Test
    void aServerThatIsNotThereIsSaidWithoutThePassword() {
        String message = refusal("jdbc:postgresql://127.0.0.1:1/eggs?user=keeper&password=secret");
        assertTrue(
                message.startsWith(
                        "can't open jdbc:postgresql://127.0.0.1:1/eggs: the server can't be"
                                + " reached"),
                message);
        assertTrue(!message.contains("secret"), message);
    }

    @Test
    void aDatabaseThatIsNotThereIsSaid() {
        String message = refusal(url.replace("/store_", "/no_store_"));
        assertTrue(message.contains("Are user, password and database in [history] url"), message);
    }

    @Test
    void aServersStoreIsCheckedWhileAMonitorUsesIt() throws StoreException {
        StoreServer server = new StoreServer(url);
        assertEquals(
                "there is no store in " + where() + " yet",
                assertThrows(StoreException.class, server::check).getMessage());
        try (HistoryStore store = HistoryStore.openAt(url)) {
            store.append(AGENT, "j", new Journal().top(5, 31).take());
            StoreReport report = server.check();
            assertTrue(report.isSound(), report.words().toString());
            assertEquals(3, report.readings());
        }
    }

    @Test
    void anUrlOfAnotherKindIsRefused() {
        assertEquals(
                "a store's URL must begin with jdbc:postgresql: but was jdbc:mysql:eggs",
                refusal("jdbc:mysql:eggs"));
    }

    @Test
    void aStoreOfVersion1IsBroughtUpToDateAndKeepsAllItHad() throws SQLException, StoreException {
        sql("CREATE TABLE store_version (version BIGINT NOT NULL)");
        sql("INSERT INTO store_version VALUES (1)");
        sql(
                Schema.statements(1).stream()
                        .map(PostgresDatabase::inServersWords)
                        .toArray(String[]::new));
        sql(
                "INSERT INTO agent (name) VALUES ('egg room')",
                "INSERT INTO journal (agent_id, name, last_sequence) VALUES (1, 'j', 100)",
                "INSERT INTO cabinet (agent_id, name) VALUES (1, 'north')",
                "INSERT INTO probe (cabinet_id, name, position, unit)"
                        + " VALUES (1, 'top', 'top', 'celsius')",
                "INSERT INTO reading (probe_id, time_millis, journal_id, sequence, value) SELECT 1,"
                        + " n * 5000, 1, n, CASE WHEN n % 10 <> 0 THEN 31 + n / 1000.0 END FROM"
                        + " generate_series(-500, 500) AS n");
        try (HistoryStore store = HistoryStore.openAt(url)) {
            assertEquals(100, store.lastSequence(AGENT, "j"));
            StoreReport report = store.check();
            assertTrue(report.isSound(), report.words().toString());
            assertEquals(1001, report.readings());
            TimeSpan all = new TimeSpan(Instant.EPOCH.minusSeconds(9999), Journal.at(0));
            var sixHours =
                    store.summaries(new CabinetKey(AGENT, Journal.NORTH), all, Tier.SIX_HOURS)
                            .get(0)
                            .summaries();
            assertEquals(2, sixHours.size());
            assertEquals(50, sixHours.badCount(0));
        }
    }
}
