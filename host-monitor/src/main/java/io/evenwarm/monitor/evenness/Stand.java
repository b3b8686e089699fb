package io.evenwarm.monitor.evenness;

import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.TimeSpan;
import java.util.Optional;

/**
 * That a probe stood somewhere for a while, by the keeper's word.
 *
 * @param probe its name
 * @param place where in the cabinet's air; empty: it was taken out, and what it read meanwhile does
 *     not count
 * @param span from when to when
 */
public record Stand(String probe, Optional<ProbePlace> place, TimeSpan span) {

    /** In the place of a position: the probe was not in the cabinet. */
    public static final String OUT = "out";

    public Stand {
        place.ifPresent(
                there -> {
                    if (!there.kind().isAir()) {
                        throw new IllegalArgumentException(
                                "a position must be in the cabinet's air, or \""
                                        + OUT
                                        + "\", but was \""
                                        + there.label()
                                        + "\"");
                    }
                });
        if (!span.from().isBefore(span.to())) {
            throw new IllegalArgumentException(
                    probe + " must stand somewhere from an earlier to a later time");
        }
    }

    /**
     * By a keeper's words.
     *
     * @param position such as {@code shelf 2 left}, or {@value #OUT}
     * @throws IllegalArgumentException when that can't be a position in the cabinet's air, or the
     *     span is none
     */
    public static Stand of(String probe, String position, TimeSpan span) {
        return new Stand(
                probe,
                position.equals(OUT) ? Optional.empty() : Optional.of(ProbePlace.of(position)),
                span);
    }

    /** Where, for a person. */
    public String words() {
        return place.map(ProbePlace::label).orElse(OUT);
    }
}
