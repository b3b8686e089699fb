package io.evenwarm.monitor.view;

import io.evenwarm.quantity.TemperatureUnit;

/** The pane of outages with the worker and the thread behind it. */
final class OutagesDesk {

    private static final long LOOK_MILLIS = 30_000;

    private final OutagesWorker worker;
    private final WindowThreads thread;
    private final OutagesPane pane;

    /**
     * @param onBack leaves for the curves
     * @param onAnswer runs on the worker's thread once an answer waits at the door
     */
    OutagesDesk(WindowContext context, ThrottledDoor door, Runnable onBack, Runnable onAnswer) {
        worker =
                new OutagesWorker(
                        context.outages(),
                        answer -> {
                            door.put(ThrottledDoor.Slot.OUTAGES, () -> shown(answer));
                            onAnswer.run();
                        });
        thread = new WindowThreads("evenwarm-window-outages", LOOK_MILLIS, worker::round);
        pane = new OutagesPane(this::ask, onBack, context.zone());
    }

    private void shown(OutagesWorker.Answer answer) {
        pane.show(answer);
    }

    private void ask(OutagesWorker.Question question) {
        worker.ask(question);
        thread.wake();
    }

    OutagesPane pane() {
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
