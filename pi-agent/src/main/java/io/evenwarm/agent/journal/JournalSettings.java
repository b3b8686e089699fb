package io.evenwarm.agent.journal;

import java.nio.file.Path;

/**
 * How the journal is kept.
 *
 * @param file the SQLite file; SQLite keeps two more beside it, with {@code -wal} and {@code -shm}
 *     behind the name
 * @param intervalSeconds time between two readings of one cabinet, in the agent's seconds; 1 to
 *     3600
 * @param commitSeconds readings wait at most this long for their commit, and are lost when the
 *     power goes before it; 0 to 3600. Events do not wait
 * @param retentionDays records older than this are removed; 1 to 36500
 * @param maximumBytes the file never grows past this; the oldest records are removed before it
 *     does; at least 64 KiB
 */
public record JournalSettings(
        Path file,
        double intervalSeconds,
        double commitSeconds,
        int retentionDays,
        long maximumBytes) {

    private static final int MIN_BYTES = 64 * 1024;

    /** Every 5 s, committed every 10 s, kept for 400 days or 2 GB. */
    public static JournalSettings defaults(Path file) {
        return new JournalSettings(file, 5, 10, 400, 2_000_000_000L);
    }

    public JournalSettings {
        if (!(intervalSeconds >= 1 && intervalSeconds <= 3600)) {
            throw new IllegalArgumentException(
                    "journal interval must be 1 to 3600 s but was " + intervalSeconds);
        }
        if (!(commitSeconds >= 0 && commitSeconds <= 3600)) {
            throw new IllegalArgumentException(
                    "journal commit time must be 0 to 3600 s but was " + commitSeconds);
        }
        if (retentionDays < 1 || retentionDays > 36_500) {
            throw new IllegalArgumentException(
                    "journal retention must be 1 to 36500 days but was " + retentionDays);
        }
        if (maximumBytes < MIN_BYTES) {
            throw new IllegalArgumentException(
                    "journal size must be at least "
                            + MIN_BYTES
                            + " bytes but was "
                            + maximumBytes);
        }
    }
}
