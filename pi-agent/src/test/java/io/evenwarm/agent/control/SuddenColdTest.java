package io.evenwarm.agent.control;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

final class SuddenColdTest {

    private static final double SET_POINT = 31.5;

    private final SuddenCold watch = new SuddenCold();
    private double value = SET_POINT;

    private boolean goTo(double celsius, int seconds) {
        double from = value;
        boolean isHolding = false;
        for (int second = 1; second <= seconds; second++) {
            value = from + (celsius - from) * second / seconds;
            isHolding = watch.step(value, SET_POINT, false, 1);
        }
        return isHolding;
    }

    @Test
    void anOpenDoorIsNoticedAndHeatIsHeldUntilTheAirHasComeBackByItself() {
        assertFalse(goTo(31.5, 600));
        assertTrue(goTo(28, 60), "3.5 K in a minute");
        assertTrue(goTo(27.5, 240), "still open");
        assertTrue(goTo(30, 60), "shut: on its way back");
        assertFalse(goTo(30.1, 180), "back as far as the walls take it");
    }

    @Test
    void whatAShutCabinetLosesWithItsHeaterOffIsNoOpenDoor() {
        assertFalse(goTo(31.5, 600));
        for (int minute = 0; minute < 40; minute++) {
            assertFalse(goTo(31.5 - 0.25 * (minute + 1), 60), "minute " + minute);
        }
    }

    @Test
    void noiseAndRoundingAreNoOpenDoor() {
        Random random = new Random(4);
        for (int second = 0; second < 86_400; second++) {
            double noisy = SET_POINT + 0.1 * Math.sin(second / 30.0) + 0.06 * random.nextGaussian();
            assertFalse(watch.step(noisy, SET_POINT, false, 1), "second " + second);
        }
    }

    @Test
    void coldThatLastsIsHeatedAgainstInTheEnd() {
        goTo(31.5, 600);
        assertTrue(goTo(27, 60));
        int held = 0;
        while (watch.step(27, SET_POINT, false, 1)) {
            held++;
        }
        assertEquals(SuddenCold.LONGEST_SECONDS, held, 60);
    }

    @Test
    void aFallThatEndsAboveTheSetPointIsWhatIsWanted() {
        value = 34;
        assertFalse(goTo(34, 60));
        assertFalse(goTo(32, 60));
    }

    @Test
    void behindADoorThatIsSaidToBeOpenHeatIsHeldHoweverSlowlyTheAirFalls() {
        assertFalse(goTo(31.5, 600));
        for (int second = 1; second <= 800; second++) {
            // A room of 29 °C: 0.11 K a minute, which a shut cabinet loses too.
            assertTrue(watch.step(31.5 - 1.5 * second / 800, SET_POINT, true, 1));
        }
        value = 30;
        assertTrue(goTo(30.2, 20), "shut: on its way back");
        assertFalse(goTo(30.7, 120), "back as far as the walls take it");
    }

    @Test
    void aDoorThatWasSaidToBeOpenAndWasNotHoldsNothingAfterwards() {
        assertFalse(goTo(31.5, 600));
        for (int second = 1; second <= 300; second++) {
            watch.step(31.4, SET_POINT, true, 1);
        }
        assertFalse(watch.step(31.4, SET_POINT, false, 1));
        assertFalse(watch.isWary());
    }

    @Test
    void aCabinetThatIsTooWarmIsControlledWhateverIsSaidOfItsDoor() {
        assertFalse(goTo(31.6, 600));
        assertFalse(watch.step(31.6, SET_POINT, true, 1));
    }
}
