package io.evenwarm.monitor.web;

/** Text made safe to stand in HTML and SVG, also within quotes. */
public final class Html {

    private Html() {}

    /** {@code plain} with what would be markup escaped; other control characters become spaces. */
    public static String text(String plain) {
        StringBuilder safe = new StringBuilder(plain.length() + 16);
        for (int i = 0; i < plain.length(); i++) {
            char c = plain.charAt(i);
            switch (c) {
                case '&' -> safe.append("&amp;");
                case '<' -> safe.append("&lt;");
                case '>' -> safe.append("&gt;");
                case '"' -> safe.append("&quot;");
                case '\'' -> safe.append("&#39;");
                default -> safe.append(c < ' ' && c != '\n' ? ' ' : c);
            }
        }
        return safe.toString();
    }
}
