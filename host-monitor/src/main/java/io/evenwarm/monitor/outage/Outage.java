package io.evenwarm.monitor.outage;

import io.evenwarm.monitor.history.CabinetKey;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * A time in which something of a cabinet was dark or had failed.
 *
 * @param words what it is, for a list
 * @param begin when the readings ended, or the failure began
 * @param end when they began again, or it was over; of what still goes on, the newest reading
 * @param dark what is taken to have been dark; empty where nothing tells
 * @param heat whether the cabinet was heated meanwhile
 * @param evidence why that is thought, a sentence each
 */
public record Outage(
        CabinetKey key,
        Kind kind,
        String words,
        Edge begin,
        Edge end,
        Set<Dark> dark,
        Heat heat,
        List<String> evidence) {

    private static final DateTimeFormatter STAMP =
            DateTimeFormatter.ofPattern("uuuuMMdd'T'HHmm'Z'", Locale.ROOT);

    /** What kind of time it is. */
    public enum Kind {
        /** No probe of the cabinet was read: what the eggs had is reconstructed. */
        GAP(""),
        /** Readings went on while something had failed: what the eggs had is estimated of them. */
        FAILURE("-failure"),
        /** One probe was not read while others were. */
        PROBE("-probe"),
        /** The readings are there, but no monitor saw them when they were made. */
        UNSEEN("-unseen");

        private final String suffix;

        Kind(String suffix) {
            this.suffix = suffix;
        }
    }

    /** What can be dark. */
    public enum Dark {
        MAINS("mains"),
        AGENT("agent"),
        NETWORK("network"),
        MONITOR("monitor"),
        PROBE("one probe");

        private final String words;

        Dark(String words) {
            this.words = words;
        }

        public String words() {
            return words;
        }
    }

    /** What is known of the heat in a gap. */
    public enum Heat {
        /** The agent did not run, and without it no heater is on. */
        NONE,
        /** It ran in between, for how long nobody knows. */
        SOME,
        /** Nothing says that it was off: the agent may have run on and heated. */
        NOT_KNOWN,
        /** Readings tell. */
        READ
    }

    public Outage {
        dark = dark.isEmpty() ? Set.of() : Set.copyOf(EnumSet.copyOf(dark));
        evidence = List.copyOf(evidence);
    }

    /**
     * By which a person names it: the cabinet and the begin in UTC, of what kind it is, and what
     * tells it from others of its kind that began in the same minute.
     */
    public String id() {
        String which =
                switch (kind) {
                    case GAP -> "";
                    case PROBE, FAILURE -> words;
                    case UNSEEN -> dark.stream().map(Dark::words).collect(Collectors.joining(" "));
                };
        return key.cabinet().value()
                + "@"
                + STAMP.format(begin.likely().atOffset(ZoneOffset.UTC))
                + kind.suffix
                + (which.isEmpty() ? "" : "-" + which.replaceAll("[^\\p{Alnum}]+", "-"));
    }

    /** Whether there are no readings of it. */
    public boolean isGap() {
        return kind == Kind.GAP;
    }

    /** Whether a moment lies in it. */
    public boolean holds(Instant time) {
        return !time.isBefore(begin.earliest()) && !time.isAfter(end.latest());
    }
}
