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
            isHolding = watch.step(value, SET_POINT, 1);
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
            assertFalse(watch.step(noisy, SET_POINT, 1), "second " + second);
        }
    }

    @Test
    void coldThatLastsIsHeatedAgainstInTheEnd() {
        goTo(31.5, 600);
        assertTrue(goTo(27, 60));
        int held = 0;
        while (watch.step(27, SET_POINT, 1)) {
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
}
