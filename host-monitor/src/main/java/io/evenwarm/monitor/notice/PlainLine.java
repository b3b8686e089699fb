package io.evenwarm.monitor.notice;

/**
 * Text for one line of a message. Names come from people and devices: a line break in one would
 * begin a header of its own in a mail (RFC 5322 s.2.2), and characters that turn the direction of
 * writing would make a line say something else than it does.
 */
public final class PlainLine {

    private PlainLine() {}

    /**
     * The text with each character that ends a line, controls or can't be shown replaced by a
     * space, runs of spaces as one, and cut with an ellipsis after so many characters.
     *
     * @param codePointsMax at least 1
     */
    public static String of(String text, int codePointsMax) {
        StringBuilder line = new StringBuilder(text.length());
        text.codePoints()
                .map(point -> isHarmless(point) ? point : ' ')
                .filter(
                        point ->
                                point != ' '
                                        || (line.length() > 0
                                                && line.charAt(line.length() - 1) != ' '))
                .forEach(line::appendCodePoint);
        String whole = line.toString().strip();
        if (whole.codePointCount(0, whole.length()) <= codePointsMax) {
            return whole;
        }
        return whole.substring(0, whole.offsetByCodePoints(0, codePointsMax - 1)).stripTrailing()
                + "…";
    }

    /** Whether the text may stand in one line as it is. */
    public static boolean isOne(String text) {
        return text.codePoints().allMatch(PlainLine::isHarmless);
    }

    private static boolean isHarmless(int point) {
        return switch (Character.getType(point)) {
            case Character.CONTROL,
                    Character.FORMAT,
                    Character.SURROGATE,
                    Character.PRIVATE_USE,
                    Character.UNASSIGNED,
                    Character.LINE_SEPARATOR,
                    Character.PARAGRAPH_SEPARATOR ->
                    false;
            default -> true;
        };
    }
}
