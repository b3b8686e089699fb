package io.evenwarm.monitor.view;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.NeedsTextLayout;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import javafx.scene.Node;
import javafx.scene.control.TextField;
import javafx.scene.input.KeyCode;
import javafx.scene.layout.Region;
import javafx.scene.text.Text;
import javafx.stage.Stage;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.testfx.api.FxRobot;
import org.testfx.framework.junit5.ApplicationExtension;
import org.testfx.framework.junit5.Start;
import org.testfx.util.WaitForAsyncUtils;

/** Evenness of an invented cabinet in the real window, without a display. */
@NeedsTextLayout
@ExtendWith(ApplicationExtension.class)
final class EvennessWindowTest {

    private static final ZoneId ZONE = ZoneId.of("Europe/Berlin");
    private static final Wording WORDING = new Wording(TemperatureUnit.CELSIUS, ZONE);

    private final Instant now = SystemClock.wall().now();
    private final InventedCabinets cabinets =
            new InventedCabinets(
                    SystemClock.wall()::now,
                    Duration.ofDays(1),
                    List.of(InventedCabinets.Story.CALM));
    private final InventedShelves shelves = new InventedShelves(cabinets.history(), now);
    private Optional<Stage> stage = Optional.empty();

    @Start
    void start(Stage its) {
        stage = Optional.of(its);
        WindowScene.show(
                its,
                cabinets.window(shelves, WindowAlarms.NONE, () -> {})
                        .withEvenness(
                                InventedShelves.compared(
                                        InventedCabinets.Story.CALM.key(),
                                        now.minus(Duration.ofDays(30)))));
    }

    private WindowLook look() {
        return new WindowLook(stage.orElseThrow());
    }

    @AfterEach
    void end() throws Exception {
        look().close();
    }

    /** As soon as curves are shown, what they show is surveyed by a press of E. */
    private void openEvenness(FxRobot robot) throws Exception {
        WindowLook.await(() -> look().says("Evenness…"));
        robot.type(KeyCode.E);
        WindowLook.await(() -> look().says("Evenness of north"));
    }

    private void type(String id, Instant time) throws Exception {
        WaitForAsyncUtils.asyncFx(
                        () -> ((TextField) look().scene().lookup(id)).setText(WORDING.time(time)))
                .get();
    }

    private List<String> pictureTexts() throws Exception {
        return WaitForAsyncUtils.asyncFx(
                        () ->
                                look().scene().getRoot().lookupAll(".picture-place").stream()
                                        .filter(WindowLook::isShown)
                                        .map(node -> ((Text) node).getText())
                                        .toList())
                .get();
    }

    @Test
    void aSurveyOfAChosenSpanIsASentenceAPictureAndFigures(FxRobot robot) throws Exception {
        openEvenness(robot);
        type("#evenness-from", now.minus(Duration.ofHours(9)));
        type("#evenness-to", now.minus(Duration.ofHours(1)));
        robot.clickOn("#evenness-go");
        WindowLook.await(() -> look().says("PASS: every point keeps within ±0.50 K"));
        assertTrue(look().says("Temperature gradient"));
        assertTrue(look().says("side by side (invented Pt100)"), "what a reading is good for");
        List<String> texts = pictureTexts();
        assertTrue(texts.contains("shelf 2 left"), texts.toString());
        assertTrue(texts.stream().anyMatch(text -> text.startsWith("off by +0.1")), "" + texts);
    }

    /** 1024 less the list of cabinets. */
    @Test
    void itsFormFitsBesideTheListInASmallWindow(FxRobot robot) throws Exception {
        openEvenness(robot);
        double width =
                WaitForAsyncUtils.asyncFx(
                                () ->
                                        ((Region) look().scene().lookup("#evenness-pane"))
                                                .minWidth(-1))
                        .get();
        assertTrue(width <= 1024 - 320, width + " px");
    }

    @Test
    void aLiveSurveySaysHowFarItHasComeUntilItIsStopped(FxRobot robot) throws Exception {
        openEvenness(robot);
        type("#evenness-from", now.minus(Duration.ofHours(9)));
        robot.clickOn("#evenness-live");
        WindowLook.await(() -> look().says("points settled since "));
        assertTrue(look().says(" of 12 h; "), "how long it takes yet: " + look().texts());
        assertTrue(look().says("PASS: every point keeps within ±0.50 K"));
        robot.clickOn("#evenness-live");
        WindowLook.await(() -> !look().says("points settled since "));
        WindowLook.await(() -> look().says("PASS: every point keeps within ±0.50 K"));
    }

    @Test
    void aSecondSpanIsComparedAndTheAnswerIsOneSentence(FxRobot robot) throws Exception {
        openEvenness(robot);
        type("#evenness-from", now.minus(Duration.ofHours(9)));
        type("#evenness-to", now.minus(Duration.ofHours(1)));
        type("#evenness-other-from", shelves.exchanged().minus(Duration.ofHours(9)));
        type("#evenness-other-to", shelves.exchanged().minus(Duration.ofHours(1)));
        robot.clickOn("#evenness-go");
        WindowLook.await(() -> look().says("Better: the gradient is 0.9"));
        assertTrue(look().says(" before, 0.2"), "how each figure changed: " + look().texts());
    }

    @Test
    void whatCannotBeAnsweredIsSaidAndKeysLeadThereAndBack(FxRobot robot) throws Exception {
        openEvenness(robot);
        type("#evenness-from", now.minus(Duration.ofHours(1)));
        type("#evenness-to", now.minus(Duration.ofHours(9)));
        robot.clickOn("#evenness-go");
        WindowLook.await(() -> look().says("The end must be after the begin"));
        type("#evenness-from", now.minus(Duration.ofHours(9)));
        type("#evenness-to", now.minus(Duration.ofMinutes(9 * 60 - 10)));
        robot.clickOn("#evenness-go");
        WindowLook.await(() -> look().says("There are only"));
        assertTrue(look().says("No verdict."));
        robot.clickOn("#leave-evenness");
        WindowLook.await(() -> !look().says("Evenness of north"));
        robot.type(KeyCode.E);
        WindowLook.await(() -> look().says("Evenness of north"));
        WaitForAsyncUtils.asyncFx(() -> look().scene().getRoot().requestFocus()).get();
        robot.type(KeyCode.ESCAPE);
        WindowLook.await(() -> !look().says("Evenness of north"));
    }

    @Test
    void theAirFlowsChartsShowWhyAFanIsCalledWeak(FxRobot robot) throws Exception {
        openEvenness(robot);
        robot.clickOn("#evenness-air-flow");
        WindowLook.await(() -> look().says("WEAKENING: about "));
        assertFalse(look().says("Compare with"));
        assertTrue(look().says("No probe has left its place among the others."));
        long charts =
                WaitForAsyncUtils.asyncFx(
                                () ->
                                        look().scene().getRoot().lookupAll("*").stream()
                                                .filter(PictureNode.class::isInstance)
                                                .filter(WindowLook::isShown)
                                                .map(Node::getAccessibleText)
                                                .count())
                        .get();
        assertEquals(2, charts);
    }
}
