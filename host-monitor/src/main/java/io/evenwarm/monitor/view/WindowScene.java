package io.evenwarm.monitor.view;

import io.evenwarm.monitor.live.LiveCabinet;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import javafx.application.Platform;
import javafx.scene.Scene;
import javafx.scene.control.Label;
import javafx.scene.layout.BorderPane;
import javafx.stage.Stage;

/** The window's content, and the workers behind it. */
final class WindowScene {

    private final Stage stage;

    private WindowScene(Stage stage) {
        this.stage = stage;
    }

    static WindowScene show(Stage stage, WindowContext context) {
        Label text = new Label();
        ThrottledDoor door = new ThrottledDoor(Platform::runLater, context.monotonic());
        ScheduledExecutorService worker =
                Executors.newSingleThreadScheduledExecutor(
                        task -> {
                            Thread thread = new Thread(task, "window");
                            thread.setDaemon(true);
                            return thread;
                        });
        ScheduledFuture<?> pump =
                worker.scheduleAtFixedRate(
                        () -> {
                            String words =
                                    context.live().cabinets().stream()
                                            .map(LiveCabinet::toString)
                                            .collect(Collectors.joining("\n"));
                            door.put(ThrottledDoor.Slot.MODEL, () -> text.setText(words));
                            door.step();
                        },
                        0,
                        200,
                        TimeUnit.MILLISECONDS);
        stage.setScene(new Scene(new BorderPane(text), 1024, 700));
        stage.setTitle("Evenwarm");
        stage.setOnHidden(
                event -> {
                    pump.cancel(false);
                    worker.shutdown();
                    context.onClosed().run();
                });
        stage.show();
        return new WindowScene(stage);
    }

    void close() {
        stage.close();
    }
}
