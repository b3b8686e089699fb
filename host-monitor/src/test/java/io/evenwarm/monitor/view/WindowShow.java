package io.evenwarm.monitor.view;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Duration;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import javafx.application.Platform;
import javafx.scene.control.ButtonBase;
import javafx.stage.Window;

/**
 * Opens the real window on invented cabinets, to be looked at by a person; with {@code empty} on
 * none, with {@code alarms} on all their alarms, with {@code log} on the alarms' log. Not a test.
 */
final class WindowShow {

    private WindowShow() {}

    public static void main(String[] arguments) throws WindowUnavailableException {
        List<InventedCabinets.Story> stories =
                arguments.length > 0 && arguments[0].equals("empty")
                        ? List.of()
                        : List.of(InventedCabinets.Story.values());
        InventedCabinets invented =
                new InventedCabinets(SystemClock.wall()::now, Duration.ofDays(9), stories);
        MonitorWindow.open(
                new WindowContext(
                        invented,
                        invented.history(),
                        invented,
                        new InventedWindowAlarms(SystemClock.wall().now()),
                        TemperatureUnit.CELSIUS,
                        ZoneId.of("Europe/Berlin"),
                        SystemClock.monotonic(),
                        SystemClock.wall(),
                        Optional.of("Invented cabinets, invented data"),
                        () -> {}));
        if (arguments.length > 0 && !arguments[0].equals("empty")) {
            Platform.runLater(() -> press("#all-alarms"));
        }
        if (arguments.length > 0 && arguments[0].equals("log")) {
            Platform.runLater(() -> press("#alarms-log"));
        }
    }

    private static void press(String id) {
        ((ButtonBase) Window.getWindows().get(0).getScene().lookup(id)).fire();
    }
}
