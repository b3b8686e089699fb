package io.evenwarm.agent.port;

import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.regex.Pattern;

/**
 * What guard has learned of a cabinet: rows of numbers, by name. Only guard knows what they mean.
 *
 * @param about what it was learned of, in one line: of anything else it says nothing
 * @param rows names without spaces, each with finite numbers
 */
public record Learned(String about, SortedMap<String, List<Double>> rows) {

    private static final Pattern NAME = Pattern.compile("[a-z0-9.-]+");

    /**
     * @throws IllegalArgumentException when a number is not finite, or a name has other characters
     *     than small letters, digits, dots and hyphens
     */
    public Learned {
        SortedMap<String, List<Double>> copy = new TreeMap<>();
        for (Map.Entry<String, List<Double>> row : rows.entrySet()) {
            if (!NAME.matcher(row.getKey()).matches()) {
                throw new IllegalArgumentException("\"" + row.getKey() + "\" can't name a row");
            }
            for (double number : row.getValue()) {
                if (!Double.isFinite(number)) {
                    throw new IllegalArgumentException(row.getKey() + " holds " + number);
                }
            }
            copy.put(row.getKey(), List.copyOf(row.getValue()));
        }
        rows = Collections.unmodifiableSortedMap(copy);
    }
}
