package io.evenwarm.monitor.view;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.Command;
import io.evenwarm.monitor.NeedsTextLayout;
import io.evenwarm.monitor.chart.ChartPicture;
import io.evenwarm.quantity.Temperature;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import javafx.geometry.Bounds;
import javafx.scene.Node;
import javafx.scene.control.Labeled;
import javafx.scene.input.KeyCode;
import javafx.scene.input.MouseButton;
import javafx.scene.input.PickResult;
import javafx.scene.input.ScrollEvent;
import javafx.scene.text.Text;
import javafx.stage.Stage;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.testfx.api.FxRobot;
import org.testfx.framework.junit5.ApplicationExtension;
import org.testfx.framework.junit5.Start;
import org.testfx.util.WaitForAsyncUtils;

/** The real window on invented cabinets, without a display. */
@NeedsTextLayout
@ExtendWith(ApplicationExtension.class)
final class WindowTest {

    private final AtomicInteger closed = new AtomicInteger();
    private final InventedCabinets cabinets =
            new InventedCabinets(
                    SystemClock.wall()::now,
                    Duration.ofDays(3),
                    List.of(InventedCabinets.Story.values()));
    private Optional<WindowScene> window = Optional.empty();
    private Optional<Stage> stage = Optional.empty();

    @Start
    void start(Stage its) {
        stage = Optional.of(its);
        window =
                Optional.of(
                        WindowScene.show(
                                its,
                                cabinets.window(
                                        cabinets.history(),
                                        WindowAlarms.NONE,
                                        closed::incrementAndGet)));
    }

    private WindowLook look() {
        return new WindowLook(stage.orElseThrow());
    }

    @AfterEach
    void end() throws Exception {
        look().close();
    }

    private void choose(FxRobot robot, InventedCabinets.Story story) throws Exception {
        for (int i = 0; i < InventedCabinets.Story.values().length; i++) {
            robot.type(KeyCode.UP);
        }
        List<String> order = List.of("old fridge", "north", "nursery", "south", "tall one");
        for (int i = 0; i < order.indexOf(story.key().cabinet().value()); i++) {
            robot.type(KeyCode.DOWN);
        }
        WindowLook.await(
                () ->
                        robot.lookup("#chart").queryAs(ChartPane.class).shown().stream()
                                .anyMatch(chart -> chart.key().equals(story.key())));
    }

    @Test
    void everyCabinetIsToldAtAGlanceAndALostOneShowsNoLiveNumber(FxRobot robot) throws Exception {
        WindowLook.await(() -> look().says("5 cabinets: 1 no contact"));
        assertTrue(look().says("last known 31."), look().texts().toString());
        assertTrue(look().says("does not answer"));
        assertTrue(look().says("Probes disagree: top, for 26 min"));
        assertTrue(look().says("Cut off, needs a person"));
        assertTrue(look().says("Invented cabinets, invented data"));
        assertTrue(look().says("Europe/Berlin"));
        long bigNumbers =
                WaitForAsyncUtils.asyncFx(
                                () ->
                                        look().labels().stream()
                                                .filter(
                                                        label ->
                                                                label.getStyleClass()
                                                                        .contains("number"))
                                                .count())
                        .get();
        assertEquals(3, bigNumbers, "only the cabinets that are heard have a big number");
    }

    @Test
    void curvesAppearAndKeysChangeSpanUnitAndCabinet(FxRobot robot) throws Exception {
        ChartPane chart = robot.lookup("#chart").queryAs(ChartPane.class);
        WindowLook.await(() -> chart.shown().isPresent());
        robot.type(KeyCode.DIGIT1);
        WindowLook.await(
                () -> chart.shown().orElseThrow().spec().span().length().toMinutes() == 60);
        robot.type(KeyCode.DIGIT5);
        WindowLook.await(() -> chart.shown().orElseThrow().spec().span().length().toHours() >= 60);
        robot.type(KeyCode.U);
        WindowLook.await(() -> look().says("88.7 °F"));
        robot.type(KeyCode.U);
        robot.type(KeyCode.DOWN);
        WindowLook.await(
                () -> chart.shown().orElseThrow().key().equals(InventedCabinets.Story.CALM.key()));
        WindowLook.await(() -> chart.shown().orElseThrow().spec().silentSince().isEmpty());
    }

    @Test
    void theWheelZoomsAndTheButtonLeadsBack(FxRobot robot) throws Exception {
        choose(robot, InventedCabinets.Story.CALM);
        ChartPane chart = robot.lookup("#chart").queryAs(ChartPane.class);
        Node back = robot.lookup("#back-to-now").query();
        assertFalse(back.isVisible());
        WaitForAsyncUtils.asyncFx(() -> turnWheel(chart, 40)).get();
        WindowLook.await(() -> back.isVisible());
        WindowLook.await(
                () -> chart.shown().orElseThrow().spec().span().length().toMinutes() < 360);
        robot.clickOn(back);
        WindowLook.await(() -> !back.isVisible());
        WindowLook.await(() -> chart.shown().orElseThrow().spec().atNow());
    }

    /** The robot's wheel turns one way on one platform and the other way on another. */
    private static void turnWheel(Node node, double deltaY) {
        double x = node.getLayoutBounds().getCenterX();
        double y = node.getLayoutBounds().getCenterY();
        node.fireEvent(
                new ScrollEvent(
                        ScrollEvent.SCROLL,
                        x,
                        y,
                        x,
                        y,
                        false,
                        false,
                        false,
                        false,
                        false,
                        false,
                        0,
                        deltaY,
                        0,
                        deltaY,
                        ScrollEvent.HorizontalTextScrollUnits.NONE,
                        0,
                        ScrollEvent.VerticalTextScrollUnits.NONE,
                        0,
                        0,
                        new PickResult(node, x, y)));
    }

    @Test
    void aDragZoomsToWhatItCovers(FxRobot robot) throws Exception {
        choose(robot, InventedCabinets.Story.CALM);
        ChartPane chart = robot.lookup("#chart").queryAs(ChartPane.class);
        Bounds at =
                WaitForAsyncUtils.asyncFx(() -> chart.localToScreen(chart.getLayoutBounds())).get();
        robot.moveTo(at.getMinX() + 150, at.getMinY() + 80);
        robot.press(MouseButton.PRIMARY);
        robot.moveTo(at.getMinX() + 250, at.getMinY() + 80);
        robot.release(MouseButton.PRIMARY);
        WindowLook.await(() -> !chart.shown().orElseThrow().spec().atNow());
        ChartPicture.PlotArea area = chart.shown().orElseThrow().picture().area();
        double minutes = 360 * 100 / (area.right() - area.left());
        assertEquals(
                minutes, chart.shown().orElseThrow().spec().span().length().toSeconds() / 60.0, 2);
    }

    @Test
    void aSetPointIsAskedConfirmedSentAndAnswered(FxRobot robot) throws Exception {
        choose(robot, InventedCabinets.Story.CALM);
        robot.clickOn("#set-point");
        WindowLook.await(() -> look().says("Change the set point of north"));
        robot.write("31.8");
        WindowLook.await(() -> look().says("0.3 K warmer"));
        assertTrue(cabinets.commands.isEmpty(), "nothing is sent before it is confirmed");
        robot.clickOn("#send");
        WindowLook.await(() -> look().says("Done: the set point is now kept."));
        assertEquals(
                List.of(
                        new Command.SetSetPoint(
                                InventedCabinets.Story.CALM.key().cabinet(),
                                Temperature.ofCelsius(31.8))),
                cabinets.commands);
        robot.type(KeyCode.ESCAPE);
        WindowLook.await(() -> !look().says("Done:"));
        WindowLook.await(() -> look().says("Set 31.8 °C (file 31.5)"));
    }

    @Test
    void aResetIsOfferedOnlyWhereACutOffTrippedAndARefusalIsShown(FxRobot robot) throws Exception {
        choose(robot, InventedCabinets.Story.CALM);
        Node reset = robot.lookup("#reset-cut-off").query();
        assertFalse(reset.isVisible());
        robot.type(KeyCode.R);
        assertFalse(look().says("Reset the cut-off of"));
        choose(robot, InventedCabinets.Story.TRIPPED);
        WindowLook.await(reset::isVisible);
        robot.clickOn(reset);
        WindowLook.await(() -> look().says("Reset the cut-off of tall one"));
        robot.clickOn("#send");
        WindowLook.await(() -> look().says("Refused: top still reads 33.1 °C"));
        assertEquals(1, cabinets.commands.size());
    }

    @Test
    void aLostCabinetCantBeAsked(FxRobot robot) throws Exception {
        choose(robot, InventedCabinets.Story.LOST);
        Node setPoint = robot.lookup("#set-point").query();
        WindowLook.await(setPoint::isDisabled);
        robot.type(KeyCode.S);
        assertFalse(look().says("Change the set point"));
        assertTrue(look().says("What is in the cabinet now is not known"));
    }

    @Test
    void noTextIsCutOffInASmallAndALargeWindow(FxRobot robot) throws Exception {
        for (int[] size : new int[][] {{1024, 700}, {1920, 1080}}) {
            WaitForAsyncUtils.asyncFx(
                            () -> {
                                stage.orElseThrow().setWidth(size[0]);
                                stage.orElseThrow().setHeight(size[1]);
                            })
                    .get();
            for (InventedCabinets.Story story : InventedCabinets.Story.values()) {
                choose(robot, story);
                WindowLook.await(() -> look().says("Log of " + story.key().cabinet()));
                WaitForAsyncUtils.waitForFxEvents();
                assertEquals(
                        List.of(),
                        WaitForAsyncUtils.asyncFx(this::cutOff).get(),
                        size[0] + "x" + size[1] + " " + story);
            }
        }
    }

    /** Texts that are drawn shorter than they are, or beyond the window's right edge. */
    private List<String> cutOff() {
        List<String> cut = new ArrayList<>();
        look().scene().getRoot().applyCss();
        look().scene().getRoot().layout();
        for (Labeled label : look().labels()) {
            for (Node part : label.lookupAll(".text")) {
                boolean shortened =
                        part instanceof Text text && !text.getText().equals(label.getText());
                boolean outside =
                        label.localToScene(label.getLayoutBounds()).getMaxX()
                                > look().scene().getWidth() + 0.5;
                if (shortened || outside) {
                    cut.add(label.getText());
                }
            }
        }
        return cut;
    }

    @Test
    void theDoorToTheWindowStaysBelowTenUpdatesASecond(FxRobot robot) throws Exception {
        WindowLook.await(() -> look().says("5 cabinets"));
        ThrottledDoor door = window.orElseThrow().door();
        long passes = door.passes();
        long begin = SystemClock.monotonic().nanos();
        WaitForAsyncUtils.sleep(2, TimeUnit.SECONDS);
        double seconds = (SystemClock.monotonic().nanos() - begin) / 1e9;
        assertTrue(
                door.passes() - passes <= Math.ceil(10 * seconds) + 1,
                door.passes() - passes + " passes in " + seconds + " s");
    }

    @Test
    void closingTheWindowTellsItOnce(FxRobot robot) throws Exception {
        WindowLook.await(() -> look().says("5 cabinets"));
        WaitForAsyncUtils.asyncFx(() -> window.orElseThrow().close()).get();
        WaitForAsyncUtils.waitForFxEvents();
        assertEquals(1, closed.get());
    }
}
