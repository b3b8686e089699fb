package io.evenwarm.monitor.view;

import java.time.Duration;
import java.util.Optional;

/** The spans that one key or click shows. */
enum SpanChoice {
    HOUR("1 hour", Duration.ofHours(1)),
    SIX_HOURS("6 hours", Duration.ofHours(6)),
    DAY("24 hours", Duration.ofHours(24)),
    WEEK("7 days", Duration.ofDays(7)),
    /** From the first reading that is stored. */
    TERM("Whole term", Duration.ZERO);

    private final String words;
    private final Duration length;

    SpanChoice(String words, Duration length) {
        this.words = words;
        this.length = length;
    }

    String words() {
        return words;
    }

    /** How long it is; empty when it depends on what is stored. */
    Optional<Duration> length() {
        return length.isZero() ? Optional.empty() : Optional.of(length);
    }
}
