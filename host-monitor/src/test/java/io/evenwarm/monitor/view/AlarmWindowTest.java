package io.evenwarm.monitor.view;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.NeedsTextLayout;
import io.evenwarm.monitor.alarm.AlarmState;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import javafx.scene.Node;
import javafx.scene.control.Button;
import javafx.scene.control.Labeled;
import javafx.scene.input.KeyCode;
import javafx.stage.Stage;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.testfx.api.FxRobot;
import org.testfx.framework.junit5.ApplicationExtension;
import org.testfx.framework.junit5.Start;
import org.testfx.util.WaitForAsyncUtils;

/** Alarms in the real window, on invented cabinets, without a display. */
@NeedsTextLayout
@ExtendWith(ApplicationExtension.class)
final class AlarmWindowTest {

    private final InventedCabinets cabinets =
            new InventedCabinets(
                    SystemClock.wall()::now,
                    Duration.ofDays(1),
                    List.of(InventedCabinets.Story.values()));
    private final InventedWindowAlarms alarms = new InventedWindowAlarms(SystemClock.wall().now());
    private Optional<Stage> stage = Optional.empty();

    @Start
    void start(Stage its) {
        stage = Optional.of(its);
        WindowScene.show(
                its,
                cabinets.window(cabinets.history(), alarms, () -> {})
                        .withEggs(new InventedEggs(SystemClock.wall()::now)));
    }

    private WindowLook look() {
        return new WindowLook(stage.orElseThrow());
    }

    @AfterEach
    void end() throws Exception {
        look().close();
    }

    /** The rows of the pane from top to bottom, by their headlines. */
    private List<String> headlines() throws Exception {
        return WaitForAsyncUtils.asyncFx(
                        () ->
                                look().scene().getRoot().lookupAll(".alarm").stream()
                                        .filter(WindowLook::isShown)
                                        .map(node -> node.getAccessibleText().split(",", 2)[0])
                                        .toList())
                .get();
    }

    @Test
    void theMostPressingAlarmStandsAboveTheCurvesAndAPressAcknowledgesIt(FxRobot robot)
            throws Exception {
        WindowLook.await(() -> look().says("Cut off tripped, egg room / tall one"));
        assertTrue(look().says("High, latched unacknowledged"));
        assertTrue(look().says("Eggs have 38 min"));
        assertTrue(look().says("All alarms (7)"));
        assertTrue(look().says("Alarm, high: cut off tripped"), "on the cabinet's card");
        robot.clickOn("#acknowledge-first");
        WindowLook.await(() -> alarms.open().get(0).state() == AlarmState.LATCHED_ACKNOWLEDGED);
    }

    @Test
    void aStripWithoutAnAlarmSaysSoFromTheStartAndHasNothingToAcknowledge() throws Exception {
        AlarmsModel calm =
                new AlarmsModel(List.of(), List.of(), "", Map.of(), "", List.of(), "", "");
        List<String> read =
                WaitForAsyncUtils.asyncFx(
                                () -> {
                                    AlarmStrip strip = new AlarmStrip(id -> {}, () -> {});
                                    strip.show(calm);
                                    return strip.getChildren().stream()
                                            .filter(WindowLook::isShown)
                                            .filter(Labeled.class::isInstance)
                                            .map(node -> ((Labeled) node).getText())
                                            .toList();
                                })
                        .get();
        assertEquals(List.of("No open alarm", "Alarm log"), read);
    }

    @Test
    void allOfThemAreListedAndWhatIsPutAwayIsVisibleButBelow(FxRobot robot) throws Exception {
        WindowLook.await(() -> look().says("All alarms (7)"));
        robot.type(KeyCode.A);
        WindowLook.await(() -> look().says("5 alarms, 3 not acknowledged"));
        assertTrue(look().says("Put away or explained: 2"));
        assertEquals(
                List.of(
                        "Cut off tripped",
                        "Cabinet stale",
                        "Probes disagree (top)",
                        "Too warm",
                        "Uneven",
                        "Too damp",
                        "Far too warm"),
                headlines());
        assertTrue(look().says("Times are local: Europe/Berlin"));
        assertTrue(look().says("Do first: The heater relay may be welded"));
        assertTrue(look().says("Shelved by Invented Anna until"));
        assertTrue(look().says("Explained by egg room / tall one cut off tripped"));
        robot.type(KeyCode.ESCAPE);
        WindowLook.await(() -> !look().says("Put away or explained"));
        assertTrue(look().says("Log of"));
    }

    @Test
    void anAlarmIsShelvedForASpanWithAReasonAndBroughtBack(FxRobot robot) throws Exception {
        look().size(1400, 1000);
        robot.type(KeyCode.A);
        WindowLook.await(() -> look().says("5 alarms"));
        robot.clickOn(inRow("Uneven", "shelve"));
        WindowLook.await(() -> look().says("Shelve: Uneven, egg room / nursery"));
        Button shelve = robot.lookup("#send").queryButton();
        assertTrue(shelve.isDisabled(), "nobody shelves without a reason");
        robot.clickOn("#shelf-two-hours");
        robot.clickOn("#shelf-reason");
        robot.write("tubs are being moved");
        robot.clickOn("#send");
        WindowLook.await(() -> look().says("4 alarms, 3 not acknowledged"));
        WindowLook.await(() -> look().says("tubs are being moved"));
        robot.clickOn(inRow("Uneven", "bring-back"));
        WindowLook.await(() -> look().says("5 alarms, 4 not acknowledged"));
    }

    private Node inRow(String headline, String id) throws Exception {
        return WaitForAsyncUtils.asyncFx(
                        () ->
                                look().scene().getRoot().lookupAll(".alarm").stream()
                                        .filter(
                                                node ->
                                                        node.getAccessibleText()
                                                                .startsWith(headline + ","))
                                        .findFirst()
                                        .orElseThrow()
                                        .lookup("#" + id))
                .get();
    }

    @Test
    void aRefusalIsSaidAndTheAlarmStays(FxRobot robot) throws Exception {
        robot.type(KeyCode.A);
        WindowLook.await(() -> look().says("5 alarms"));
        robot.clickOn(inRow("Cut off tripped", "reset-alarm"));
        WindowLook.await(() -> look().says("Not done: the condition is still there"));
        assertTrue(look().says("5 alarms"));
    }

    @Test
    void theLogSaysWhatBecameOfWhatWhenByWhomAndWhy(FxRobot robot) throws Exception {
        robot.type(KeyCode.A);
        WindowLook.await(() -> look().says("5 alarms"));
        robot.clickOn("#alarms-log");
        WindowLook.await(() -> look().says("Too warm, egg room / tall one"));
        assertTrue(look().says("unacknowledged → acknowledged, medium"));
        assertTrue(look().says("Invented Anna: acknowledged by Invented Anna"));
        assertFalse(look().says("Do first"));
    }

    @Test
    void everyAlarmIsReachedAndAcknowledgedByKeysAlone(FxRobot robot) throws Exception {
        robot.type(KeyCode.A);
        WindowLook.await(() -> look().says("5 alarms"));
        Node button = inRow("Cabinet stale", "acknowledge");
        WaitForAsyncUtils.asyncFx(button::requestFocus).get();
        robot.type(KeyCode.SPACE);
        WindowLook.await(() -> look().says("5 alarms, 2 not acknowledged"));
        WaitForAsyncUtils.asyncFx(() -> look().scene().getRoot().requestFocus()).get();
        for (int i = 0; i < 40 && !focusIsIn("Probes disagree (top)"); i++) {
            robot.type(KeyCode.TAB);
        }
        assertTrue(focusIsIn("Probes disagree (top)"), "Tab reaches every row");
    }

    @Test
    void aKeyThatIsDownWhenTheRowsMoveStillPresses(FxRobot robot) throws Exception {
        robot.type(KeyCode.A);
        WindowLook.await(() -> look().says("5 alarms"));
        Node button = inRow("Cabinet stale", "acknowledge");
        WaitForAsyncUtils.asyncFx(button::requestFocus).get();
        robot.press(KeyCode.SPACE);
        alarms.add(InventedCabinets.Story.CALM, "Blind");
        WindowLook.await(() -> look().says("6 alarms"));
        assertEquals("Blind", headlines().get(0), "what presses most stands above");
        assertTrue(button.isFocused());
        robot.release(KeyCode.SPACE);
        WindowLook.await(() -> look().says("6 alarms, 3 not acknowledged"));
    }

    @Test
    void aCardSaysHowLongTheEggsHaveWithoutHeatAndHowWarmTheyAreTakenToBe() throws Exception {
        WindowLook.await(
                () ->
                        look().says(
                                        "If heating stopped now: about 5 h until the eggs are at"
                                                + " 24.0 °C. Eggs about 31.4 °C, 31.0 to 31.8,"
                                                + " estimated."));
        assertTrue(look().says("If heating stopped when last heard: "), "the stale one's");
        assertTrue(look().says("No model yet: by the settings' constants."));
    }

    @Test
    void onePressAcknowledgesAllThatHasOneCause(FxRobot robot) throws Exception {
        look().size(1400, 1000);
        robot.type(KeyCode.A);
        WindowLook.await(() -> look().says("5 alarms, 3 not acknowledged"));
        alarms.add(InventedCabinets.Story.TRIPPED, "Blind");
        WindowLook.await(() -> look().says("6 alarms, 4 not acknowledged"));
        robot.clickOn(inRow("Blind", "acknowledge-cause"));
        WindowLook.await(() -> look().says("6 alarms, 2 not acknowledged"));
    }

    private boolean focusIsIn(String headline) throws Exception {
        WaitForAsyncUtils.waitForFxEvents();
        return WaitForAsyncUtils.asyncFx(
                        () -> {
                            for (Node at = look().scene().getFocusOwner();
                                    at != null;
                                    at = at.getParent()) {
                                if (at instanceof AlarmRow row) {
                                    return row.getAccessibleText().startsWith(headline + ",");
                                }
                            }
                            return false;
                        })
                .get();
    }

    @Test
    void fiveAlarmsFitASmallAndALargeWindowWithoutAWordCutOff(FxRobot robot) throws Exception {
        WindowLook.await(() -> look().says("All alarms (7)"));
        assertTrue(look().says("for 12 min"), "no date, whatever the hour: it would not fit");
        for (int[] its : new int[][] {{1024, 700}, {1920, 1080}}) {
            look().size(its[0], its[1]);
            assertEquals(
                    List.of(), WaitForAsyncUtils.asyncFx(look()::cutOff).get(), its[0] + " strip");
            robot.type(KeyCode.A);
            WindowLook.await(() -> look().says("5 alarms"));
            WaitForAsyncUtils.waitForFxEvents();
            assertEquals(
                    List.of(), WaitForAsyncUtils.asyncFx(look()::cutOff).get(), its[0] + " pane");
            Node last = inRow("Uneven", "acknowledge").getParent().getParent();
            double bottom =
                    WaitForAsyncUtils.asyncFx(
                                    () -> last.localToScene(last.getLayoutBounds()).getMaxY())
                            .get();
            assertTrue(bottom <= its[1], "the fifth ends at " + bottom + " of " + its[1]);
            robot.type(KeyCode.A);
            WindowLook.await(() -> !look().says("5 alarms"));
        }
    }
}
