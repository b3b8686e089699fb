package io.evenwarm.monitor.app;

/** Text made safe to stand in HTML and SVG. */
final class Markup {

    private Markup() {}

    static String text(String plain) {
        return plain.replace("&", "&amp;")
                .replace("<", "&lt;")
                .replace(">", "&gt;")
                .replace("\"", "&quot;")
                .replace("'", "&#39;");
    }
}
