package io.evenwarm.monitor.view;

import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.quantity.TemperatureUnit;
import java.util.Optional;
import java.util.function.Supplier;

/** The pane of evenness with the worker and the thread behind it. */
final class EvennessDesk {

    private static final long LOOK_MILLIS = 30_000;

    private final ThrottledDoor door;
    private final Runnable onAnswer;
    private final EvennessWorker worker;
    private final WindowThreads thread;
    private final EvennessPane pane;

    /**
     * @param curves which span the curves show
     * @param onBack leaves for the curves
     * @param onAnswer runs on the worker's thread once an answer waits at the door
     */
    EvennessDesk(
            WindowContext context,
            ThrottledDoor door,
            Supplier<Optional<TimeSpan>> curves,
            Runnable onBack,
            Runnable onAnswer) {
        this.door = door;
        this.onAnswer = onAnswer;
        worker = new EvennessWorker(context.history(), context.evenness(), this::answered);
        thread = new WindowThreads("evenwarm-window-evenness", LOOK_MILLIS, worker::round);
        pane = new EvennessPane(curves, this::ask, onBack, context.zone());
    }

    private void ask(EvennessWorker.Question question) {
        worker.ask(question);
        thread.wake();
    }

    private void answered(EvennessWorker.Answer answer) {
        door.put(ThrottledDoor.Slot.EVENNESS, () -> pane.show(answer));
        onAnswer.run();
    }

    EvennessPane pane() {
        return pane;
    }

    /** Shows the chosen cabinet's. */
    void open(WindowModel.Detail chosen, TemperatureUnit unit) {
        pane.open(chosen.card().key(), unit);
    }

    void start() {
        thread.start();
    }

    void stop() {
        thread.stop();
    }
}
