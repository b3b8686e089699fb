package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** Air that is a level and {@code k q}, without noise, from the moment a heater loses power. */
final class PartOfHeatTest {

    private static final double K = 4;
    private static final double LEVEL = 30;
    private static final double DUTY = 0.3;

    /** Of a scatter of 0.05 K, as {@link HeaterHealth} weighs it. */
    private static final double PER_SQUARED_KELVIN = 33;

    private final HeatModel air = new HeatModel();
    private final PartOfHeat part = new PartOfHeat();

    private PartOfHeatTest() {
        for (int i = 0; i < 1000; i++) {
            air.step(DUTY, LEVEL + K * air.share(), K);
        }
        part.restart(air);
    }

    private void run(double power, int blocks) {
        for (int i = 0; i < blocks; i++) {
            air.step(power * DUTY, LEVEL + K * air.share(), K);
            part.step(DUTY, LEVEL + K * air.share(), K, PER_SQUARED_KELVIN);
        }
    }

    @Test
    void whenNothingComesEachPartIsTheWorseExplanation() {
        run(0, 60);
        assertTrue(part.againstBest() > 12, part.againstBest() + "");
    }

    @Test
    void whenHalfComesHalfIsTheBetterExplanation() {
        run(0.5, 60);
        assertTrue(part.againstBest() < -12, part.againstBest() + "");
        assertEquals(air.share(), part.bestModel().share(), 1e-9);
    }

    @Test
    void whatSpokeForAPartIsOutweighedOnceNothingComes() {
        run(0.5, 90);
        run(0, 90);
        assertTrue(part.againstBest() > 0, part.againstBest() + "");
    }

    @Test
    void aLookInsideDoesNotUnsayWhatTheMinutesBeforeItSaid() {
        run(0, 60);
        double before = part.againstBest();
        part.goOn(air);
        assertEquals(before, part.againstBest(), 0);
        part.restart(air);
        assertEquals(0, part.againstBest(), 0);
    }
}
