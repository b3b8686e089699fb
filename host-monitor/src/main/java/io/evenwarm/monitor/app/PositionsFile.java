package io.evenwarm.monitor.app;

import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.evenness.Stand;
import io.evenwarm.monitor.evenness.Stands;
import io.evenwarm.monitor.history.TimeSpan;
import java.io.IOException;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/**
 * The file in which a keeper writes down where probes stood that were moved: a CSV with the columns
 * probe, position, from and to.
 */
final class PositionsFile {

    private static final List<String> COLUMNS = List.of("probe", "position", "from", "to");

    /** 27 places, each of them many times. */
    private static final int ROWS_MAX = 1000;

    private PositionsFile() {}

    /**
     * @param zone of times that don't say theirs
     * @throws IllegalArgumentException when it is not such a file, or can't be read; says in which
     *     line
     */
    static Stands read(Path file, ZoneId zone) {
        if (!Files.isRegularFile(file)) {
            throw new IllegalArgumentException(
                    "--positions must be a CSV file that is there, but " + file + " is none");
        }
        List<Stand> stands = new ArrayList<>();
        try (Reader reader = Files.newBufferedReader(file, StandardCharsets.UTF_8);
                CSVParser rows =
                        CSVFormat.RFC4180
                                .builder()
                                .setIgnoreEmptyLines(true)
                                .setIgnoreSurroundingSpaces(true)
                                .setTrim(true)
                                .get()
                                .parse(reader)) {
            boolean isHeaderSeen = false;
            for (CSVRecord row : rows) {
                if (!isHeaderSeen) {
                    requireHeader(file, row.toList());
                    isHeaderSeen = true;
                } else {
                    stands.add(stand(file, rows.getCurrentLineNumber(), row, zone));
                }
                if (stands.size() > ROWS_MAX) {
                    throw new IllegalArgumentException(
                            file + " must have at most " + ROWS_MAX + " lines of positions");
                }
            }
        } catch (IOException | UncheckedIOException e) {
            throw new IllegalArgumentException(
                    file + " can't be read as a CSV file in UTF-8: " + e.getMessage(), e);
        }
        if (stands.isEmpty()) {
            throw new IllegalArgumentException(
                    file
                            + " must begin with the line \""
                            + String.join(",", COLUMNS)
                            + "\" and have a line for each stay of a probe, but has none");
        }
        return new Stands(stands);
    }

    private static void requireHeader(Path file, List<String> header) {
        if (!header.equals(COLUMNS)) {
            throw new IllegalArgumentException(
                    file
                            + " must begin with the line \""
                            + String.join(",", COLUMNS)
                            + "\" but began with \""
                            + String.join(",", header)
                            + "\"");
        }
    }

    private static Stand stand(Path file, long line, CSVRecord row, ZoneId zone) {
        try {
            if (row.size() != COLUMNS.size()) {
                throw new IllegalArgumentException(
                        "there must be "
                                + COLUMNS.size()
                                + " columns, "
                                + String.join(",", COLUMNS)
                                + ", but were "
                                + row.size());
            }
            Instant from = Times.parse("from", row.get(2), zone);
            Instant to = Times.parse("to", row.get(3), zone);
            if (!from.isBefore(to)) {
                throw new IllegalArgumentException(
                        "to must be after from, but " + row.get(3) + " is not");
            }
            return Stand.of(new ProbeName(row.get(0)).value(), row.get(1), new TimeSpan(from, to));
        } catch (IllegalArgumentException e) {
            throw new IllegalArgumentException(file + ", line " + line + ": " + e.getMessage(), e);
        }
    }
}
