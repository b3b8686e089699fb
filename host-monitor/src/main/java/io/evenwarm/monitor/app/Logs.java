package io.evenwarm.monitor.app;

import java.util.logging.Handler;
import java.util.logging.Level;
import java.util.logging.Logger;

/** Where logs go: standard error, one line each. */
final class Logs {

    /** Held here: the log manager forgets a logger, and its level, that nobody holds. */
    private static final Logger OURS = Logger.getLogger("io.evenwarm");

    /** It warns of being started from the class path, which is how it is started here. */
    private static final Logger WINDOW_TOOLKIT = Logger.getLogger("javafx");

    private Logs() {}

    /** Before the first logger is used. */
    static void setUp(Level level) {
        // Date, time, zone, level, message, and the stack of what was thrown.
        System.setProperty(
                "java.util.logging.SimpleFormatter.format", "%1$tF %1$tT %1$tz %4$s  %5$s%6$s%n");
        Logger root = Logger.getLogger("");
        root.setLevel(Level.WARNING);
        for (Handler handler : root.getHandlers()) {
            handler.setLevel(level);
        }
        OURS.setLevel(level);
        WINDOW_TOOLKIT.setLevel(Level.SEVERE);
    }
}
