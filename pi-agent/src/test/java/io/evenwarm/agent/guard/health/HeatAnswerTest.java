package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

/** Air that sinks although it is heated more and more: because no heat comes, or all the same. */
final class HeatAnswerTest {

    private static final double K = 5;

    private final HeatResponse response = new HeatResponse();
    private final HeatAnswer answer = new HeatAnswer();
    private final Random random = new Random(3);
    private final Lag delayed = new Lag(HeatResponse.PROBE_LAG_SECONDS);
    private final Lag heat = new Lag(250);
    private double sunk;

    private void blocks(int count, double duty, double working, double sinksPerBlock) {
        for (int i = 0; i < count; i++) {
            double commanded = i % 13 < 13 * duty ? 1 : 0;
            double q = heat.step(delayed.step(working * commanded));
            sunk += sinksPerBlock;
            double air = 30 - sunk + K * q + 0.01 * random.nextGaussian();
            response.take(commanded, air, true, true);
            answer.take(commanded, air, response);
        }
    }

    private void learned() {
        blocks(12 * 360, 0.3, 1, 0);
        assertTrue(response.isLearned());
        assertEquals(K, response.kelvin(), 0.5);
        answer.restart();
    }

    @Test
    void inARoomThatGetsColdFastTheHeaterStillShows() {
        learned();
        blocks(60, 0.6, 1, 0.01);
        assertTrue(answer.isClear(response));
    }

    @Test
    void heatThatHasGoneDoesNotHoweverTheAirSinks() {
        learned();
        for (int i = 0; i < 90; i++) {
            blocks(1, 0.6, 0, 0.01);
            assertFalse(answer.isClear(response), "block " + i);
        }
    }

    @Test
    void airThatFallsEverMoreSlowlyWhileEverMoreHeatIsAskedForIsNoAnswer() {
        learned();
        for (int i = 0; i < 60; i++) {
            blocks(1, 0.3 + 0.01 * i, 0, 0.02 * (1 - i / 60.0));
            assertFalse(answer.isClear(response), "block " + i);
        }
    }

    @Test
    void withNothingSeenNothingIsClear() {
        learned();
        assertFalse(answer.isClear(response));
    }
}
