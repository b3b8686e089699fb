package io.evenwarm.monitor.view;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import javafx.application.Platform;
import javafx.scene.Scene;
import javafx.scene.control.ButtonBase;
import javafx.scene.control.TextField;
import javafx.stage.Window;

/**
 * Opens the real window on invented cabinets, to be looked at by a person; with {@code empty} on
 * none, with {@code curves} on the curves of one, with {@code alarms} on all their alarms, with
 * {@code log} on the alarms' log, with {@code evenness} on a survey and with {@code air-flow} on
 * the air flow of one. Not a test.
 */
final class WindowShow {

    private WindowShow() {}

    public static void main(String[] arguments)
            throws WindowUnavailableException, InterruptedException {
        boolean isEvenness =
                arguments.length > 0 && List.of("evenness", "air-flow").contains(arguments[0]);
        List<InventedCabinets.Story> stories =
                arguments.length > 0 && arguments[0].equals("empty")
                        ? List.of()
                        : isEvenness || (arguments.length > 0 && arguments[0].equals("curves"))
                                ? List.of(InventedCabinets.Story.CALM)
                                : List.of(InventedCabinets.Story.values());
        InventedCabinets invented =
                new InventedCabinets(SystemClock.wall()::now, Duration.ofDays(9), stories);
        Instant now = SystemClock.wall().now();
        InventedShelves shelves = new InventedShelves(invented.history(), now);
        MonitorWindow.open(
                invented.window(
                                isEvenness ? shelves : invented.history(),
                                isEvenness ? WindowAlarms.NONE : new InventedWindowAlarms(now),
                                () -> {})
                        .withEvenness(
                                InventedShelves.compared(
                                        InventedCabinets.Story.CALM.key(),
                                        now.minus(Duration.ofDays(30))))
                        .withEggs(new InventedEggs(SystemClock.wall()::now)));
        if (isEvenness) {
            showEvenness(arguments[0], shelves.exchanged());
        } else if (arguments.length > 0 && !List.of("empty", "curves").contains(arguments[0])) {
            Platform.runLater(() -> press("#all-alarms"));
        }
        if (arguments.length > 0 && arguments[0].equals("log")) {
            Platform.runLater(() -> press("#alarms-log"));
        }
    }

    private static void showEvenness(String which, Instant exchanged) throws InterruptedException {
        awaitCurves();
        Platform.runLater(() -> press("#evenness"));
        if (which.equals("air-flow")) {
            Platform.runLater(() -> press("#evenness-air-flow"));
            return;
        }
        Wording wording = new Wording(TemperatureUnit.CELSIUS, ZoneId.of("Europe/Berlin"));
        Platform.runLater(
                () -> {
                    type("#evenness-other-from", wording.time(exchanged.minusSeconds(20 * 3600)));
                    type("#evenness-other-to", wording.time(exchanged.minusSeconds(3600)));
                    press("#evenness-go");
                });
    }

    /** Their span is the one that is surveyed first. */
    private static void awaitCurves() throws InterruptedException {
        AtomicBoolean isThere = new AtomicBoolean();
        while (!isThere.get()) {
            TimeUnit.SECONDS.sleep(1);
            Platform.runLater(() -> isThere.set(scene().lookup("#evenness") != null));
        }
        TimeUnit.SECONDS.sleep(2);
    }

    private static Scene scene() {
        return Window.getWindows().get(0).getScene();
    }

    private static void type(String id, String words) {
        ((TextField) scene().lookup(id)).setText(words);
    }

    private static void press(String id) {
        ((ButtonBase) scene().lookup(id)).fire();
    }
}
