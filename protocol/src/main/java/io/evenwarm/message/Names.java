package io.evenwarm.message;

import java.util.regex.Pattern;

/** The rule for names that stand in files, commands and messages. */
final class Names {

    static final int MAX_LENGTH = 64;
    private static final Pattern NAME = Pattern.compile("[\\p{L}\\p{N}][\\p{L}\\p{N} ._-]*");

    private Names() {}

    /** Returns {@code name} or throws with what was found and what is allowed. */
    static String require(String what, String name) {
        if (name.length() > MAX_LENGTH || !NAME.matcher(name).matches()) {
            throw new IllegalArgumentException(
                    what
                            + " must be 1 to "
                            + MAX_LENGTH
                            + " letters, digits, spaces or . _ - and begin with a letter or digit, but was \""
                            + abbreviate(name)
                            + "\"");
        }
        return name;
    }

    private static String abbreviate(String text) {
        return text.length() <= MAX_LENGTH ? text : text.substring(0, MAX_LENGTH) + "…";
    }
}
