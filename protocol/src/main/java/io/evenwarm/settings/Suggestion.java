package io.evenwarm.settings;

import java.util.Collection;
import java.util.Comparator;
import java.util.Locale;
import java.util.Optional;

/** Guesses which of the known words a person meant. */
final class Suggestion {

    private Suggestion() {}

    /** The known word nearest to {@code typed}, when it is near enough to be a slip. */
    static Optional<String> nearest(String typed, Collection<String> known) {
        String given = typed.toLowerCase(Locale.ROOT).replace('-', '_');
        int limit = Math.max(1, given.length() / 3);
        return known.stream()
                .filter(word -> distance(given, word.replace('-', '_')) <= limit)
                .min(
                        Comparator.comparingInt(
                                        (String word) -> distance(given, word.replace('-', '_')))
                                .thenComparing(Comparator.naturalOrder()));
    }

    /**
     * The number of single-letter changes, and swaps of neighbours, from one word to the other
     * (optimal string alignment distance: Damerau, CACM 7(3), 1964, pp. 171-176).
     */
    static int distance(String from, String to) {
        int[] beforeLast = new int[to.length() + 1];
        int[] last = new int[to.length() + 1];
        int[] current = new int[to.length() + 1];
        for (int j = 0; j <= to.length(); j++) {
            last[j] = j;
        }
        for (int i = 1; i <= from.length(); i++) {
            current[0] = i;
            for (int j = 1; j <= to.length(); j++) {
                int change = from.charAt(i - 1) == to.charAt(j - 1) ? 0 : 1;
                int best = Math.min(last[j - 1] + change, Math.min(last[j], current[j - 1]) + 1);
                if (i > 1
                        && j > 1
                        && from.charAt(i - 1) == to.charAt(j - 2)
                        && from.charAt(i - 2) == to.charAt(j - 1)) {
                    best = Math.min(best, beforeLast[j - 2] + 1);
                }
                current[j] = best;
            }
            int[] spare = beforeLast;
            beforeLast = last;
            last = current;
            current = spare;
        }
        return last[to.length()];
    }
}
