package io.evenwarm.monitor.view;

import io.evenwarm.monitor.view.ViewState.ChartSize;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Supplier;

/**
 * The window's workers, each with its thread: one looks at what is known now, one asks history, one
 * speaks with the alarms. Any thread may wake or stop them.
 */
final class WindowWork {

    private static final long LOOK_MILLIS = 100;
    private static final long ALARMS_MILLIS = 500;
    private static final long HISTORY_MILLIS = 30_000;

    private final AlarmWorker alarms;
    private final WindowThreads looking;
    private final WindowThreads remembering;
    private final WindowThreads alarming;

    /**
     * @param choices what the person chose to see, read at each look
     * @param sink gets what is finished, by the window's thread
     */
    WindowWork(
            WindowContext context,
            Supplier<ViewState> choices,
            ThrottledDoor door,
            WindowWorker.Sink sink) {
        HistoryWorker history =
                new HistoryWorker(context.history(), context.monotonic(), this::wake);
        alarms = new AlarmWorker(context.alarms(), this::wake);
        alarming = new WindowThreads("evenwarm-window-alarms", ALARMS_MILLIS, alarms::round);
        WindowWorker worker =
                new WindowWorker(context, choices, Fonts.family(), history, alarms, door, sink);
        looking = new WindowThreads("evenwarm-window", LOOK_MILLIS, worker::step);
        remembering =
                new WindowThreads(
                        "evenwarm-window-history",
                        LOOK_MILLIS,
                        new HistoryRounds(history, context.monotonic(), HISTORY_MILLIS)::round);
    }

    /** What a window opens with. */
    static ViewState atFirst(WindowContext context) {
        return new ViewState(
                Optional.empty(),
                Viewport.following(SpanChoice.SIX_HOURS),
                context.unit(),
                false,
                true,
                new ChartSize(0, 0, 1));
    }

    void start() {
        looking.start();
        remembering.start();
        alarming.start();
    }

    void stop() {
        looking.stop();
        remembering.stop();
        alarming.stop();
    }

    /** Has what is shown made anew at once. */
    void wake() {
        looking.wake();
    }

    /** Does something about alarms; a refusal is shown above them. */
    void act(Function<WindowAlarms, Optional<String>> action) {
        alarms.want(action);
        alarming.wake();
    }

    /**
     * @param isWanted whether the alarms' log is seen
     */
    void wantLog(boolean isWanted) {
        alarms.wantLog(isWanted);
        alarming.wake();
    }
}
