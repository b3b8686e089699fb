package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** What is known of a heater before anything is learned. */
final class PlainRulesTest {

    private static final double SET_POINT = 31.5;

    private final PlainRules rules = new PlainRules();

    private void rest(int blocks) {
        for (int i = 0; i < blocks; i++) {
            rules.take(0, 32, SET_POINT);
            assertFalse(rules.isWarmingWithoutHeat());
        }
    }

    @Test
    void airThatComesBackAfterALookIsNotWarmedByTheHeater() {
        rest(400);
        for (int i = 0; i < 90; i++) {
            double back = 0.45 * StrictMath.exp(-i / 20.0);
            rules.take(0, 32 - back, SET_POINT);
            assertFalse(rules.isWarmingWithoutHeat(), "block " + i);
        }
    }

    @Test
    void airThatGetsWarmerThanItWasBeforeIs() {
        rest(400);
        boolean isFound = false;
        for (int i = 0; i < 61 && !isFound; i++) {
            rules.take(0, 32 + 0.006 * i, SET_POINT);
            isFound = rules.isWarmingWithoutHeat();
        }
        assertTrue(isFound);
    }

    /** A look inside as the heater dies: nothing of the air counts for its ten minutes and more. */
    @Test
    void fullCommandWhileSomethingElseMovedTheAirNeedNotBuildUpAgain() {
        for (int i = 0; i < 400; i++) {
            rules.take(0.2, 31.5, SET_POINT);
        }
        for (int i = 0; i < 120; i++) {
            rules.pass(1);
            assertFalse(rules.isCoolingAtFullHeat());
        }
        int blocks = 0;
        while (!rules.isCoolingAtFullHeat() && blocks < 400) {
            rules.take(1, 30.5 - 0.002 * blocks, SET_POINT);
            blocks++;
        }
        // Twenty minutes of blocks of 10 s, all of which it must have seen itself.
        assertEquals(121, blocks);
    }
}
