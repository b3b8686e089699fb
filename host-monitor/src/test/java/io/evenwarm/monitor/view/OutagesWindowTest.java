package io.evenwarm.monitor.view;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.NeedsTextLayout;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import javafx.scene.Node;
import javafx.scene.control.ToggleButton;
import javafx.scene.input.KeyCode;
import javafx.stage.Stage;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.testfx.api.FxRobot;
import org.testfx.framework.junit5.ApplicationExtension;
import org.testfx.framework.junit5.Start;
import org.testfx.util.WaitForAsyncUtils;

/** Outages in the real window, on an invented cabinet, without a display. */
@NeedsTextLayout
@ExtendWith(ApplicationExtension.class)
final class OutagesWindowTest {

    private final InventedCabinets cabinets =
            new InventedCabinets(
                    SystemClock.wall()::now,
                    Duration.ofDays(1),
                    List.of(InventedCabinets.Story.CALM));
    private Optional<Stage> stage = Optional.empty();

    @Start
    void start(Stage its) {
        stage = Optional.of(its);
        WindowScene.show(
                its,
                cabinets.window(cabinets.history(), WindowAlarms.NONE, () -> {})
                        .withOutages(new InventedOutages()));
    }

    private WindowLook look() {
        return new WindowLook(stage.orElseThrow());
    }

    @AfterEach
    void end() throws Exception {
        look().close();
    }

    private static boolean isChosen(Node node) {
        return node instanceof ToggleButton row && row.isSelected();
    }

    @Test
    void theNewestOutageIsToldFirstWithItsCurvesItsFiguresAndItsTubs(FxRobot robot)
            throws Exception {
        WindowLook.await(() -> look().says("Log of"));
        robot.clickOn("#outages");
        WindowLook.await(() -> look().says("The coldest eggs of north got down to 23.4 °C"));
        assertTrue(look().says("2026-05-03 01:40, 5 h 1 min: mains and agent dark"));
        assertTrue(look().says("below 30.5 °C"));
        assertTrue(look().says("31.4 K h"));
        assertTrue(look().says("bottom (no probe there)"));
        assertTrue(look().says("No probe measured eggs."));
        robot.clickOn("#leave-outages");
        WindowLook.await(() -> look().says("Log of"));
        assertFalse(look().says("Outages of north"));
    }

    @Test
    void anotherOutageIsReachedByKeysAloneAndWhatIsNotKnownIsSaid(FxRobot robot) throws Exception {
        WindowLook.await(() -> look().says("Log of"));
        robot.type(KeyCode.G);
        WindowLook.await(() -> look().says("The coldest eggs of north got down"));
        for (int i = 0; i < 30 && !secondIsFocused(); i++) {
            robot.type(KeyCode.TAB);
            WaitForAsyncUtils.waitForFxEvents();
        }
        assertTrue(secondIsFocused(), "Tab reaches every outage");
        robot.type(KeyCode.SPACE);
        WindowLook.await(() -> look().says("What the eggs of north had is not known."));
        assertTrue(look().says("Not known: Whether it was heated."));
        assertEquals(
                1,
                look().scene().getRoot().lookupAll(".outage").stream()
                        .filter(OutagesWindowTest::isChosen)
                        .count());
        robot.type(KeyCode.ESCAPE);
        WindowLook.await(() -> look().says("Log of"));
    }

    private boolean secondIsFocused() {
        return look().scene().getFocusOwner() instanceof ToggleButton row
                && row.getText().contains("network dark");
    }

    @Test
    void noWordIsCutOffInASmallAndInALargeWindow(FxRobot robot) throws Exception {
        WindowLook.await(() -> look().says("Log of"));
        for (int[] its : new int[][] {{1024, 700}, {1920, 1080}}) {
            look().size(its[0], its[1]);
            assertEquals(
                    List.of(), WaitForAsyncUtils.asyncFx(look()::cutOff).get(), its[0] + " curves");
            robot.type(KeyCode.G);
            WindowLook.await(() -> look().says("The coldest eggs of north got down"));
            WaitForAsyncUtils.waitForFxEvents();
            assertEquals(
                    List.of(),
                    WaitForAsyncUtils.asyncFx(look()::cutOff).get(),
                    its[0] + " outages");
            robot.type(KeyCode.G);
            WindowLook.await(() -> look().says("Log of"));
        }
    }
}
