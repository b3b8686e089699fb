package io.evenwarm.monitor.view;

import io.evenwarm.monitor.view.WindowAlarms.LoggedAlarm;
import io.evenwarm.monitor.view.WindowAlarms.ShownAlarm;
import java.io.UncheckedIOException;
import java.util.ArrayDeque;
import java.util.List;
import java.util.Optional;
import java.util.Queue;
import java.util.function.Function;

/**
 * Asks for the alarms, and does what the person wants done about them, on a thread of its own: a
 * slow store holds up this thread and nothing else of the window.
 */
final class AlarmWorker {

    /** A person does not press more often than a slow store answers, for long. */
    private static final int WAITING_MAX = 32;

    private static final int LOG_MAX = 300;

    private final WindowAlarms alarms;
    private final Runnable onNews;
    private final Object lock = new Object();

    /** Guarded by {@link #lock}. */
    private final Queue<Function<WindowAlarms, Optional<String>>> waiting = new ArrayDeque<>();

    private volatile boolean isLogWanted;
    private volatile State state =
            new State(List.of(), List.of(), List.of(), Optional.empty(), Optional.empty());

    /**
     * What is known of them.
     *
     * @param log newest first; empty while nobody wants it
     * @param logTrouble why the log can't be read
     * @param refusal why the newest of what a person wanted was not done
     */
    record State(
            List<ShownAlarm> open,
            List<ShownAlarm> putAway,
            List<LoggedAlarm> log,
            Optional<String> logTrouble,
            Optional<String> refusal) {}

    /**
     * @param onNews runs on this worker's thread after something became different
     */
    AlarmWorker(WindowAlarms alarms, Runnable onNews) {
        this.alarms = alarms;
        this.onNews = onNews;
    }

    /** Any thread may ask. */
    State state() {
        return state;
    }

    /** Has something done, in a while. Never waits; wake the thread afterwards. */
    void want(Function<WindowAlarms, Optional<String>> action) {
        synchronized (lock) {
            if (waiting.size() < WAITING_MAX) {
                waiting.add(action);
            }
        }
    }

    void wantLog(boolean wanted) {
        isLogWanted = wanted;
    }

    /** Does what waits, then looks. */
    void round() {
        Optional<String> refusal = state.refusal();
        for (Optional<Function<WindowAlarms, Optional<String>>> next = next();
                next.isPresent();
                next = next()) {
            refusal = next.get().apply(alarms);
        }
        List<ShownAlarm> open = alarms.open();
        List<ShownAlarm> putAway = alarms.putAway();
        List<LoggedAlarm> log = List.of();
        Optional<String> logTrouble = Optional.empty();
        if (isLogWanted) {
            try {
                log = alarms.log(LOG_MAX);
            } catch (UncheckedIOException e) {
                logTrouble = Optional.of("The log can't be read now: " + e.getMessage());
            }
        }
        State seen = new State(open, putAway, log, logTrouble, refusal);
        if (!seen.equals(state)) {
            state = seen;
            onNews.run();
        }
    }

    private Optional<Function<WindowAlarms, Optional<String>>> next() {
        synchronized (lock) {
            return Optional.ofNullable(waiting.poll());
        }
    }
}
