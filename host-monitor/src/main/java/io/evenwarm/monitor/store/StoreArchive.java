package io.evenwarm.monitor.store;

import java.io.BufferedReader;
import java.io.BufferedWriter;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVPrinter;
import org.apache.commons.csv.CSVRecord;
import org.apache.commons.csv.QuoteMode;

/**
 * Everything of a store as one file that any store takes in, whatever it lives in: a ZIP with one
 * CSV a table. {@code docs/file-formats.md} describes it.
 */
final class StoreArchive {

    /** The first entry: what this is. */
    private static final String ABOUT = "evenwarm-store.txt";

    private static final String FORM = "evenwarm store archive 1";
    private static final String SCHEMA = "schema version ";

    /** In an order in which each names only rows of those before it. */
    static final List<String> TABLES =
            List.of(
                    "agent",
                    "journal",
                    "boot",
                    "cabinet",
                    "probe",
                    "limits",
                    "word",
                    "record",
                    "reading",
                    "event",
                    "log_entry",
                    "probe_tier",
                    "set_point_tier",
                    "heater_tier",
                    "thinned",
                    "tub",
                    "notice",
                    "notice_delivery",
                    "notice_event",
                    "alarm_change",
                    "alarm_desk",
                    "notice_link",
                    "drill",
                    "drill_due",
                    "probe_check",
                    "air_flow_begin",
                    "monitor_run",
                    "survey_load",
                    "probe_stand");

    /** Those whose rows are numbered by the database. */
    static final List<String> TABLES_WITH_ID =
            List.of(
                    "agent",
                    "journal",
                    "boot",
                    "cabinet",
                    "probe",
                    "limits",
                    "word",
                    "log_entry",
                    "tub",
                    "notice",
                    "notice_delivery",
                    "drill",
                    "probe_check",
                    "air_flow_begin",
                    "monitor_run",
                    "survey_load",
                    "probe_stand");

    private static final int ABOUT_OCTETS_MAX = 1000;
    private static final int ROWS_AT_ONCE = 10_000;

    /** Texts are quoted and missing values are not, so that an empty text is no missing one. */
    private static final CSVFormat ROWS =
            CSVFormat.RFC4180
                    .builder()
                    .setRecordSeparator('\n')
                    .setQuoteMode(QuoteMode.ALL_NON_NULL)
                    .setNullString("")
                    .get();

    private final Connection connection;
    private final int version;
    private final List<String> tables;

    /**
     * Of a store of this version.
     *
     * @param connection to it
     */
    StoreArchive(Connection connection) {
        this(connection, Schema.VERSION, TABLES);
    }

    private StoreArchive(Connection connection, int version, List<String> tables) {
        this.connection = connection;
        this.version = version;
        this.tables = tables;
    }

    /** Of a store of an earlier version, which had fewer tables. */
    static StoreArchive ofVersion(Connection connection, int version) throws SQLException {
        List<String> tables = new ArrayList<>();
        for (String table : TABLES) {
            try (ResultSet rows =
                    connection.getMetaData().getTables(null, connection.getSchema(), table, null)) {
                if (rows.next()) {
                    tables.add(table);
                }
            }
        }
        return new StoreArchive(connection, version, tables);
    }

    /** Writes a new file; returns how many rows it has. */
    long write(Path archive) throws SQLException, IOException {
        connection.setAutoCommit(false);
        long rows = 0;
        boolean done = false;
        try (ZipOutputStream zip =
                        new ZipOutputStream(
                                Files.newOutputStream(archive, StandardOpenOption.CREATE_NEW),
                                StandardCharsets.UTF_8);
                Writer text =
                        new BufferedWriter(new OutputStreamWriter(zip, StandardCharsets.UTF_8))) {
            zip.putNextEntry(new ZipEntry(ABOUT));
            text.write(about(version));
            text.flush();
            zip.closeEntry();
            for (String table : tables) {
                zip.putNextEntry(new ZipEntry(table + ".csv"));
                rows += write(table, text);
                text.flush();
                zip.closeEntry();
            }
            done = true;
        } finally {
            if (!done) {
                Files.deleteIfExists(archive);
            }
        }
        connection.rollback();
        connection.setAutoCommit(true);
        return rows;
    }

    private long write(String table, Writer text) throws SQLException, IOException {
        Map<String, Integer> columns = columns(table);
        List<String> names = List.copyOf(columns.keySet());
        List<Integer> types = List.copyOf(columns.values());
        CSVPrinter printer = new CSVPrinter(text, ROWS);
        printer.printRecord(names);
        long count = 0;
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT " + String.join(", ", names) + " FROM " + table)) {
            select.setFetchSize(ROWS_AT_ONCE);
            try (ResultSet rows = select.executeQuery()) {
                while (rows.next()) {
                    for (int i = 1; i <= names.size(); i++) {
                        boolean isDouble = types.get(i - 1) == Types.DOUBLE;
                        Object value = isDouble ? (Object) rows.getDouble(i) : rows.getString(i);
                        printer.print(rows.wasNull() ? null : value);
                    }
                    printer.println();
                    count++;
                }
            }
        }
        return count;
    }

    /**
     * Takes in a file.
     *
     * @param where names the store, for a person
     * @return how many rows it had
     */
    long read(Path archive, String where) throws SQLException, IOException {
        if (count("agent") > 0) {
            throw new StoreException(
                    where
                            + " is not empty, and an archive is taken in whole: name another"
                            + " data_folder or database for it");
        }
        int written = versionOf(archive);
        if (written == version) {
            return readRows(archive);
        }
        return readEarlier(archive, written);
    }

    /** By way of a store of the archive's own version, which is then brought up to date. */
    private long readEarlier(Path archive, int written) throws SQLException, IOException {
        Path folder = Files.createTempDirectory("evenwarm-import");
        Path file = folder.resolve("earlier.sqlite");
        Path current = folder.resolve("current.zip");
        try {
            long rows;
            try (Connection earlier = DriverManager.getConnection("jdbc:sqlite:" + file)) {
                Schema.bringUpTo(written, earlier, file);
                earlier.setAutoCommit(false);
                rows = ofVersion(earlier, written).readRows(archive);
                earlier.commit();
                earlier.setAutoCommit(true);
                Schema.bringUpToDate(earlier, file);
                new StoreArchive(earlier).write(current);
            }
            readRows(current);
            return rows;
        } finally {
            Files.deleteIfExists(current);
            Files.deleteIfExists(file);
            Files.deleteIfExists(folder);
        }
    }

    private static int versionOf(Path archive) throws IOException {
        try (ZipInputStream zip =
                new ZipInputStream(Files.newInputStream(archive), StandardCharsets.UTF_8)) {
            return readAbout(zip, archive);
        }
    }

    private long readRows(Path archive) throws SQLException, IOException {
        long rows = 0;
        try (ZipInputStream zip =
                new ZipInputStream(Files.newInputStream(archive), StandardCharsets.UTF_8)) {
            readAbout(zip, archive);
            for (String table : tables) {
                ZipEntry entry = zip.getNextEntry();
                String name = entry == null ? "its end" : entry.getName();
                if (!name.equals(table + ".csv")) {
                    throw new StoreException(
                            archive + ": expected " + table + ".csv but found " + name);
                }
                rows += read(table, zip, archive);
            }
        }
        return rows;
    }

    private static String about(int version) {
        return FORM + "\n" + SCHEMA + version + "\n";
    }

    /** The version of the store that it was made from. */
    private static int readAbout(ZipInputStream zip, Path archive) throws IOException {
        ZipEntry entry = zip.getNextEntry();
        if (entry == null || !entry.getName().equals(ABOUT)) {
            throw new StoreException(
                    archive
                            + " is no archive of a store: expected a ZIP that begins with "
                            + ABOUT
                            + " but found "
                            + (entry == null ? "none" : entry.getName()));
        }
        String about = new String(zip.readNBytes(ABOUT_OCTETS_MAX), StandardCharsets.UTF_8);
        for (int version = 1; version <= Schema.VERSION; version++) {
            if (about.equals(about(version))) {
                return version;
            }
        }
        throw new StoreException(
                archive
                        + " is of another version: expected \""
                        + FORM
                        + "\" and \""
                        + SCHEMA
                        + "1\" to \""
                        + Schema.VERSION
                        + "\" but found "
                        + about.lines().limit(2).toList()
                        + ". Use the Evenwarm that wrote it, or a newer one");
    }

    private long read(String table, ZipInputStream zip, Path archive)
            throws SQLException, IOException {
        Map<String, Integer> columns = columns(table);
        List<String> names = List.copyOf(columns.keySet());
        List<Integer> types = List.copyOf(columns.values());
        long count = 0;
        // Neither is closed: they would close the archive.
        CSVParser parser =
                CSVParser.parse(
                        new BufferedReader(new InputStreamReader(zip, StandardCharsets.UTF_8)),
                        ROWS.builder().setHeader().setSkipHeaderRecord(true).get());
        if (!parser.getHeaderNames().equals(names)) {
            throw new StoreException(
                    archive
                            + ", "
                            + table
                            + ".csv: expected the columns "
                            + names
                            + " but found "
                            + parser.getHeaderNames());
        }
        try (PreparedStatement insert =
                connection.prepareStatement(
                        "INSERT INTO "
                                + table
                                + " ("
                                + String.join(", ", names)
                                + ") VALUES (?"
                                + ", ?".repeat(names.size() - 1)
                                + ")")) {
            for (CSVRecord row : parser) {
                bind(insert, row, types, archive + ", " + table + ".csv, row " + (count + 1));
                insert.addBatch();
                if (++count % ROWS_AT_ONCE == 0) {
                    insert.executeBatch();
                }
            }
            insert.executeBatch();
        } catch (UncheckedIOException e) {
            throw new StoreException(
                    archive + ", " + table + ".csv is damaged (" + e.getMessage() + ")", e);
        }
        return count;
    }

    private static void bind(
            PreparedStatement insert, CSVRecord row, List<Integer> types, String where)
            throws SQLException, StoreException {
        if (row.size() != types.size()) {
            throw new StoreException(
                    where + ": expected " + types.size() + " values but found " + row.size());
        }
        for (int i = 0; i < types.size(); i++) {
            String text = row.get(i);
            int type = types.get(i);
            try {
                if (text == null) {
                    insert.setNull(i + 1, type);
                } else if (type == Types.DOUBLE) {
                    insert.setDouble(i + 1, Double.parseDouble(text));
                } else if (type == Types.BIGINT) {
                    insert.setLong(i + 1, Long.parseLong(text));
                } else {
                    insert.setString(i + 1, text);
                }
            } catch (NumberFormatException e) {
                throw new StoreException(
                        where + ": expected a number but found \"" + text + "\"", e);
            }
        }
    }

    /** Columns in order, each with {@link Types#BIGINT}, {@link Types#DOUBLE} or VARCHAR. */
    private Map<String, Integer> columns(String table) throws SQLException {
        Map<String, Integer> columns = new LinkedHashMap<>();
        try (ResultSet rows =
                connection.getMetaData().getColumns(null, connection.getSchema(), table, null)) {
            while (rows.next()) {
                columns.put(
                        rows.getString("COLUMN_NAME"),
                        switch (rows.getInt("DATA_TYPE")) {
                            case Types.INTEGER, Types.BIGINT -> Types.BIGINT;
                            case Types.REAL, Types.FLOAT, Types.DOUBLE -> Types.DOUBLE;
                            default -> Types.VARCHAR;
                        });
            }
        }
        if (columns.isEmpty()) {
            throw new IllegalStateException("no table " + table);
        }
        return columns;
    }

    private long count(String table) throws SQLException {
        try (PreparedStatement select =
                        connection.prepareStatement("SELECT count(*) FROM " + table);
                ResultSet rows = select.executeQuery()) {
            rows.next();
            return rows.getLong(1);
        }
    }
}
