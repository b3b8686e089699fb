package io.evenwarm.agent.app;

import java.io.OutputStream;
import java.io.UnsupportedEncodingException;
import java.nio.charset.StandardCharsets;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.function.IntSupplier;
import java.util.logging.Formatter;
import java.util.logging.Handler;
import java.util.logging.Level;
import java.util.logging.LogRecord;
import java.util.logging.Logger;
import java.util.logging.StreamHandler;

/**
 * Logs go to standard error, one line each, with local time and zone. {@code -Devenwarm.log=debug}
 * in {@code EVENWARM_JAVA_OPTIONS} adds details and stack traces.
 */
final class LogSetup {

    private static final String LEVEL_PROPERTY = "evenwarm.log";

    /** Kept, because the logging system forgets loggers that nobody holds. */
    private static final Logger OURS = Logger.getLogger("io.evenwarm");

    /** What it finds comes to us as an exception, with better words. */
    private static final Logger PI4J = Logger.getLogger("com.pi4j");

    private static final Logger DRIVERS = Logger.getLogger("io.evenwarm.agent.driver");

    private LogSetup() {}

    /** Sets logging up for the whole process. */
    static void toStream(OutputStream out, ZoneId zone) {
        boolean debug = "debug".equalsIgnoreCase(System.getProperty(LEVEL_PROPERTY));
        Logger root = Logger.getLogger("");
        for (Handler handler : root.getHandlers()) {
            root.removeHandler(handler);
        }
        StreamHandler handler = new FlushingHandler(out, new OneLine(zone, debug));
        try {
            handler.setEncoding(StandardCharsets.UTF_8.name());
        } catch (UnsupportedEncodingException e) {
            throw new AssertionError("UTF-8 is always there", e);
        }
        handler.setLevel(Level.ALL);
        root.addHandler(handler);
        root.setLevel(Level.WARNING);
        PI4J.setLevel(debug ? Level.INFO : Level.OFF);
        OURS.setLevel(debug ? Level.ALL : Level.INFO);
    }

    /**
     * Keeps our log quiet meanwhile: what goes wrong in a rehearsal is its result, and its time of
     * day means nothing. With the debug level it is not quiet.
     */
    static int quietly(IntSupplier work) {
        Level before = OURS.getLevel();
        if (!Level.ALL.equals(before)) {
            OURS.setLevel(Level.OFF);
        }
        try {
            return work.getAsInt();
        } finally {
            OURS.setLevel(before);
        }
    }

    /** For commands that show what drivers find: it would stand there twice. */
    static void leaveOutDrivers() {
        DRIVERS.setLevel(Level.SEVERE);
    }

    private static final class FlushingHandler extends StreamHandler {
        FlushingHandler(OutputStream out, Formatter formatter) {
            super(out, formatter);
        }

        @Override
        public synchronized void publish(LogRecord logRecord) {
            super.publish(logRecord);
            flush();
        }
    }

    /** For example {@code 2026-11-25 16:01:02 +0100 warning journal: the disk is full}. */
    static final class OneLine extends Formatter {
        private static final DateTimeFormatter TIME =
                DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm:ss xx", Locale.ROOT);

        private final ZoneId zone;
        private final boolean withStackTraces;

        OneLine(ZoneId zone, boolean withStackTraces) {
            this.zone = zone;
            this.withStackTraces = withStackTraces;
        }

        @Override
        public String format(LogRecord logRecord) {
            StringBuilder line = new StringBuilder(120);
            line.append(TIME.format(logRecord.getInstant().atZone(zone)));
            line.append(' ').append(word(logRecord.getLevel())).append("  ");
            line.append(formatMessage(logRecord).replaceAll("\\R", " / "));
            Throwable thrown = logRecord.getThrown();
            if (thrown != null) {
                line.append(": ").append(Failures.inOneLine(thrown));
                if (withStackTraces) {
                    line.append(Failures.stackTrace(thrown).indent(4));
                }
            }
            return line.append('\n').toString();
        }

        private static String word(Level level) {
            int value = level.intValue();
            if (value >= Level.SEVERE.intValue()) {
                return "error";
            }
            if (value >= Level.WARNING.intValue()) {
                return "warning";
            }
            return value >= Level.INFO.intValue() ? "info" : "debug";
        }
    }
}
