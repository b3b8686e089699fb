package io.evenwarm.monitor.history;

import java.time.Instant;
import java.util.Optional;

/**
 * A tub that stands, or stood, in a cabinet.
 *
 * @param name what stands on it; only one of a name stands anywhere at a time
 * @param shelf where in the cabinet
 * @param massGrams of tub, medium and eggs together, more than 0 to {@value #GRAMS_MAX}
 * @param contents what is in it
 * @param from since when
 * @param to until when; empty while it stands there
 */
public record Tub(
        String name,
        CabinetKey key,
        String shelf,
        double massGrams,
        String contents,
        Instant from,
        Optional<Instant> to) {

    public static final double GRAMS_MAX = 100_000;

    private static final int TEXT_MAX = 200;

    public Tub {
        requireText("a tub's name", name);
        requireText("a tub's shelf", shelf);
        requireText("a tub's contents", contents);
        if (!(massGrams > 0 && massGrams <= GRAMS_MAX)) {
            throw new IllegalArgumentException(
                    "a tub's mass must be more than 0 and at most "
                            + GRAMS_MAX
                            + " g but was "
                            + massGrams);
        }
        if (to.isPresent() && to.get().isBefore(from)) {
            throw new IllegalArgumentException(
                    "a tub that came at " + from + " can't have gone at " + to.get());
        }
    }

    private static void requireText(String what, String text) {
        if (text.isBlank()
                || text.length() > TEXT_MAX
                || text.chars().anyMatch(Character::isISOControl)) {
            throw new IllegalArgumentException(
                    what
                            + " must be 1 to "
                            + TEXT_MAX
                            + " characters on one line but was \""
                            + text.replaceAll("\\p{Cntrl}", "?")
                            + "\"");
        }
    }
}
