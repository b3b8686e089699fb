package io.evenwarm.monitor.evenness;

import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.history.CabinetKey;
import java.time.Instant;
import java.util.Optional;

/**
 * One line of a probe's record: what came to be known of it, and from when on that counts. Never
 * changed and never removed; a later one takes its place.
 *
 * @param at from when on it counts
 * @param reference what it was compared with, as the keeper names it; empty where there is none
 * @param offset to add to what it reads: reference − probe, K; empty for an exchanged probe
 */
public record ProbeEntry(
        CabinetKey key,
        ProbeName probe,
        Instant at,
        Kind kind,
        String reference,
        Optional<Estimate> offset) {

    private static final int REFERENCE_LENGTH_MAX = 200;

    /** What happened. */
    public enum Kind {
        /** It was compared with melting ice. */
        ICE_POINT("ice-point", "ice point"),
        /** It was compared with a reference beside it. */
        SIDE_BY_SIDE("side-by-side", "side by side"),
        /** From here on its agent adds the offset by itself, so that readings come corrected. */
        SET_AT_AGENT("set-at-agent", "offset set at its agent"),
        /** From here on another probe reads under this name, of which nothing is known. */
        EXCHANGED("exchanged", "exchanged");

        private final String key;
        private final String words;

        Kind(String key, String words) {
            this.key = key;
            this.words = words;
        }

        /** As it stands in the store and in JSON. */
        public String key() {
            return key;
        }

        public String words() {
            return words;
        }

        /**
         * The one of a key.
         *
         * @throws IllegalArgumentException when there is none
         */
        public static Kind of(String key) {
            for (Kind kind : values()) {
                if (kind.key.equals(key)) {
                    return kind;
                }
            }
            throw new IllegalArgumentException("no kind of a probe's entry: \"" + key + "\"");
        }

        boolean isCheck() {
            return this == ICE_POINT || this == SIDE_BY_SIDE;
        }
    }

    public ProbeEntry {
        if (offset.isPresent() == (kind == Kind.EXCHANGED)) {
            throw new IllegalArgumentException(
                    "a probe's entry has an offset unless it was exchanged, but "
                            + kind
                            + " had "
                            + offset);
        }
        if (reference.length() > REFERENCE_LENGTH_MAX
                || reference.chars().anyMatch(Character::isISOControl)
                || (reference.isBlank() && kind.isCheck())) {
            throw new IllegalArgumentException(
                    "a reference must be named by 1 to "
                            + REFERENCE_LENGTH_MAX
                            + " characters on one line but was \""
                            + reference.replaceAll("\\p{Cntrl}", "?")
                            + "\"");
        }
    }

    /** What a comparison found; empty for an exchanged probe. */
    Optional<ProbeOffset> found() {
        return offset.map(here -> new ProbeOffset(probe.value(), here, at));
    }
}
