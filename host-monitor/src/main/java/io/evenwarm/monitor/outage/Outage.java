package io.evenwarm.monitor.outage;

import io.evenwarm.monitor.history.CabinetKey;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;

/**
 * A time of which a cabinet's history has no readings.
 *
 * @param begin when the readings ended
 * @param end when they began again
 * @param dark what is taken to have been dark; empty where nothing tells
 * @param heat whether the cabinet was heated meanwhile
 * @param evidence why that is thought, a sentence each
 */
public record Outage(
        CabinetKey key, Edge begin, Edge end, Set<Dark> dark, Heat heat, List<String> evidence) {

    private static final DateTimeFormatter STAMP =
            DateTimeFormatter.ofPattern("uuuuMMdd'T'HHmm'Z'", Locale.ROOT);

    /** What can be dark. */
    public enum Dark {
        MAINS("mains"),
        AGENT("agent");

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
        NOT_KNOWN
    }

    public Outage {
        dark = dark.isEmpty() ? Set.of() : Set.copyOf(EnumSet.copyOf(dark));
        evidence = List.copyOf(evidence);
    }

    /** By which a person names it: the cabinet and the begin in UTC. */
    public String id() {
        return key.cabinet().value() + "@" + STAMP.format(begin.likely().atOffset(ZoneOffset.UTC));
    }

    /** Whether a moment lies in it. */
    public boolean holds(Instant time) {
        return !time.isBefore(begin.earliest()) && !time.isAfter(end.latest());
    }
}
