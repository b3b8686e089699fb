package io.evenwarm.message;

import java.util.regex.Pattern;

/** Octets as they stand in messages: pairs of lower-case hexadecimal digits. */
final class Hexadecimal {

    private static final Pattern PAIRS = Pattern.compile("([0-9a-f]{2})*");

    private Hexadecimal() {}

    /** Returns {@code digits} or throws with what is allowed; never repeats what was found. */
    static String require(String what, String digits, int minOctets, int maxOctets) {
        if (digits.length() < 2 * minOctets
                || digits.length() > 2 * maxOctets
                || !PAIRS.matcher(digits).matches()) {
            throw new IllegalArgumentException(
                    what
                            + " must be "
                            + (minOctets == maxOctets ? "" : minOctets + " to ")
                            + maxOctets
                            + " octets as lower-case hexadecimal digits");
        }
        return digits;
    }
}
