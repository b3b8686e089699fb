package io.evenwarm.monitor.view;

import java.time.Duration;
import java.util.Optional;

/** For how long an alarm may be put away; the desk allows no more than 24 h to end by itself. */
enum ShelfSpan {
    HALF_AN_HOUR("30 minutes", Optional.of(Duration.ofMinutes(30))),
    TWO_HOURS("2 hours", Optional.of(Duration.ofHours(2))),
    A_NIGHT("8 hours", Optional.of(Duration.ofHours(8))),
    A_DAY("24 hours", Optional.of(Duration.ofHours(24))),
    OUT_OF_SERVICE("Until I return it to service, as during a repair", Optional.empty());

    private final String words;
    private final Optional<Duration> length;

    ShelfSpan(String words, Optional<Duration> length) {
        this.words = words;
        this.length = length;
    }

    String words() {
        return words;
    }

    /** Empty where it does not end by itself. */
    Optional<Duration> length() {
        return length;
    }
}
