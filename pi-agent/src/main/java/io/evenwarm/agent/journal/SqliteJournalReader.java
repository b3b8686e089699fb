package io.evenwarm.agent.journal;

import io.evenwarm.codec.MessageCodec;
import io.evenwarm.message.BootId;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.JournalRecord.Event;
import io.evenwarm.message.Moment;
import java.io.IOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.sqlite.SQLiteConfig;

/** Reads the file over a connection of its own, which follows when another file takes its place. */
final class SqliteJournalReader implements JournalReader {

    private final Path path;
    private final Journal journal;
    private final MessageCodec codec;
    private Optional<Open> open = Optional.empty();
    private long generation;

    SqliteJournalReader(Path path, Journal journal, MessageCodec codec) {
        this.path = path;
        this.journal = journal;
        this.codec = codec;
    }

    @Override
    public JournalSlice after(long sequence, int max) throws IOException {
        try {
            return connection().after(sequence, max);
        } catch (SQLException e) {
            JournalFault fault = JournalFault.of(path, e);
            giveUp(fault);
            throw fault;
        } catch (JournalFault e) {
            giveUp(e);
            throw e;
        }
    }

    private void giveUp(JournalFault fault) {
        if (fault.cure() == JournalFault.Cure.SET_ASIDE) {
            journal.foundUnreadable(fault, generation);
        }
        close();
    }

    private Open connection() throws SQLException, IOException {
        // Taken before the file is opened: when it changes in between, the next call opens again.
        long current = journal.generation();
        if (open.isPresent() && generation == current) {
            return open.get();
        }
        close();
        generation = current;
        if (current == 0) {
            throw new IOException(
                    "the journal is not open yet"
                            + journal.health().trouble().map(words -> ": " + words).orElse(""));
        }
        SQLiteConfig readOnly = new SQLiteConfig();
        readOnly.setReadOnly(true);
        Open opened = new Open(readOnly.createConnection("jdbc:sqlite:" + path));
        open = Optional.of(opened);
        return opened;
    }

    @Override
    public void close() {
        try {
            if (open.isPresent()) {
                open.get().connection.close();
            }
        } catch (SQLException e) {
            Journal.LOG.log(
                    System.Logger.Level.DEBUG,
                    "a journal reader did not close: {0}",
                    e.getMessage());
        }
        open = Optional.empty();
    }

    /** One connection, with what it has read of the two small tables. */
    private final class Open {
        private final Connection connection;
        private final String name;
        private final PreparedStatement query;
        private final Map<Long, BootId> boots = new Recent<>();
        private final Map<Long, CabinetLayout> layouts = new Recent<>();

        Open(Connection connection) throws SQLException {
            this.connection = connection;
            try (Statement statement = connection.createStatement()) {
                this.name = JournalSchema.text(statement, "SELECT name FROM journal");
                this.query =
                        connection.prepareStatement(
                                "SELECT record.*, boot.name, trusted_offset_millis FROM record"
                                        + " LEFT JOIN boot ON boot.id = record.boot"
                                        + " WHERE sequence > ? ORDER BY sequence LIMIT ?");
            } catch (SQLException e) {
                connection.close();
                throw e;
            }
        }

        JournalSlice after(long sequence, int max) throws SQLException, JournalFault {
            query.setLong(1, sequence);
            query.setInt(2, max);
            List<JournalRecord> records = new ArrayList<>();
            try (ResultSet rows = query.executeQuery()) {
                while (rows.next()) {
                    records.add(decode(rows));
                }
            }
            return new JournalSlice(name, records);
        }

        private JournalRecord decode(ResultSet row) throws SQLException, JournalFault {
            long sequence = row.getLong(1);
            try {
                Moment moment = moment(row);
                byte[] body = row.getBytes(8);
                if (row.getInt(6) == JournalSchema.READINGS_KIND) {
                    return ReadingsBody.decode(body, sequence, moment, layout(row.getLong(7)));
                }
                return event(body, sequence, moment);
            } catch (IOException | IllegalArgumentException e) {
                throw new JournalFault(
                        JournalFault.Cure.SET_ASIDE,
                        "record "
                                + sequence
                                + " of the journal "
                                + path
                                + " is damaged: "
                                + e.getMessage());
            }
        }

        private Moment moment(ResultSet row) throws SQLException, IOException {
            Moment recorded =
                    new Moment(
                            boot(row.getLong(2), row.getString(9)),
                            row.getLong(3),
                            Instant.ofEpochMilli(row.getLong(4)),
                            row.getInt(5) == 1);
            long offsetMillis = row.getLong(10);
            return row.wasNull() ? recorded : EarlierRuns.corrected(recorded, offsetMillis);
        }

        private Event event(byte[] body, long sequence, Moment moment) throws IOException {
            JournalRecord stored =
                    codec.decodeRecord(body)
                            .value()
                            .orElseThrow(() -> new IOException("it can't be decoded"));
            if (stored instanceof Event event) {
                return new Event(
                        sequence,
                        moment,
                        event.subject(),
                        event.kind(),
                        event.finding(),
                        event.words(),
                        event.previousRun());
            }
            throw new IOException("it is not an event");
        }

        private BootId boot(long id, @Nullable String name) throws IOException {
            BootId known = boots.get(id);
            if (known != null) {
                return known;
            }
            if (name == null) {
                throw new IOException("its boot " + id + " is missing");
            }
            BootId boot = new BootId(UUID.fromString(name));
            boots.put(id, boot);
            return boot;
        }

        private CabinetLayout layout(long id) throws SQLException, IOException {
            CabinetLayout known = layouts.get(id);
            if (known != null) {
                return known;
            }
            try (PreparedStatement find =
                    connection.prepareStatement("SELECT cabinet, body FROM layout WHERE id = ?")) {
                find.setLong(1, id);
                try (ResultSet row = find.executeQuery()) {
                    if (!row.next()) {
                        throw new IOException("its layout " + id + " is missing");
                    }
                    CabinetLayout layout =
                            CabinetLayout.decode(
                                    new CabinetName(row.getString(1)), row.getBytes(2));
                    layouts.put(id, layout);
                    return layout;
                }
            }
        }
    }

    /** Keeps the last few hundred only. */
    private static final class Recent<K, V> extends LinkedHashMap<K, V> {
        private static final long serialVersionUID = 1L;
        private static final int MAX_KEPT = 256;

        @Override
        protected boolean removeEldestEntry(Map.Entry<K, V> eldest) {
            return size() > MAX_KEPT;
        }
    }
}
