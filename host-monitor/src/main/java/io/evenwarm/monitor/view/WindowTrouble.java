package io.evenwarm.monitor.view;

import java.util.Locale;

/** Says in one line why a window could not open, and what would help. */
final class WindowTrouble {

    private WindowTrouble() {}

    static String words(Throwable cause) {
        StringBuilder all = new StringBuilder();
        for (Throwable step = cause; step != null; step = step.getCause()) {
            all.append(step.getClass().getSimpleName()).append(' ').append(step.getMessage());
            all.append(' ');
        }
        String text = all.toString().toLowerCase(Locale.ROOT);
        if (text.contains("display")) {
            return "there is no display (DISPLAY names none that answers).";
        }
        if (text.contains("pango")) {
            return "the text-layout library is missing"
                    + " (Debian: apt install libpango-1.0-0 libpangoft2-1.0-0).";
        }
        if (text.contains("gtk")) {
            return "the window toolkit is missing (Debian: apt install libgtk-3-0 libxtst6).";
        }
        return cause.getClass().getSimpleName() + ": " + cause.getMessage();
    }
}
