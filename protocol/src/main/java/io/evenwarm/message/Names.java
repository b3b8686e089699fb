package io.evenwarm.message;

/** The rule for names that stand in files, commands and messages. */
final class Names {

    static final int MAX_LENGTH = 64;
    private static final String ALSO = " ._-";

    private Names() {}

    /** Returns {@code name} or throws with what was found and what is allowed. */
    static String require(String what, String name) {
        if (!isName(name)) {
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

    /** By hand: each reading of each probe comes with a name, and a pattern takes longer. */
    private static boolean isName(String name) {
        if (name.isEmpty() || name.length() > MAX_LENGTH) {
            return false;
        }
        for (int i = 0; i < name.length(); i += Character.charCount(name.codePointAt(i))) {
            int at = name.codePointAt(i);
            if (!isLetterOrNumber(at) && (i == 0 || ALSO.indexOf(at) < 0)) {
                return false;
            }
        }
        return true;
    }

    private static boolean isLetterOrNumber(int codePoint) {
        int type = Character.getType(codePoint);
        return Character.isLetter(codePoint)
                || type == Character.DECIMAL_DIGIT_NUMBER
                || type == Character.LETTER_NUMBER
                || type == Character.OTHER_NUMBER;
    }

    private static String abbreviate(String text) {
        return text.length() <= MAX_LENGTH ? text : text.substring(0, MAX_LENGTH) + "…";
    }
}
