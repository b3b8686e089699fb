package io.evenwarm.monitor.view;

import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.NeedsTextLayout;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Duration;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import javafx.scene.control.Labeled;
import javafx.stage.Stage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.testfx.api.FxRobot;
import org.testfx.framework.junit5.ApplicationExtension;
import org.testfx.framework.junit5.Start;
import org.testfx.util.WaitForAsyncUtils;

/** What the window says before there is anything to show. */
@NeedsTextLayout
@ExtendWith(ApplicationExtension.class)
final class EmptyWindowTest {

    @Start
    void start(Stage stage) {
        InventedCabinets none =
                new InventedCabinets(SystemClock.wall()::now, Duration.ofDays(1), List.of());
        WindowScene.show(
                stage,
                new WindowContext(
                        none,
                        none.history(),
                        none,
                        WindowAlarms.NONE,
                        TemperatureUnit.FAHRENHEIT,
                        ZoneOffset.UTC,
                        SystemClock.monotonic(),
                        SystemClock.wall(),
                        Optional.empty(),
                        () -> {}));
    }

    @Test
    void whatIsBeingTriedIsSaidInWords(FxRobot robot) throws Exception {
        WaitForAsyncUtils.waitFor(
                30, TimeUnit.SECONDS, () -> says(robot, "No cabinet has been heard of yet"));
        assertTrue(says(robot, "cellar: 192.0.2.17:4770 does not answer"));
        assertTrue(says(robot, "No cabinets yet"));
    }

    private static boolean says(FxRobot robot, String words) {
        return robot.lookup(".label").queryAllAs(Labeled.class).stream()
                .anyMatch(label -> label.getText().contains(words));
    }
}
