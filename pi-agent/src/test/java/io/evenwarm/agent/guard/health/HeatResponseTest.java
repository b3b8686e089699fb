package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

/** Air of which the answer to heat is known: {@code 28 + k q}, rounded as a DS18B20 rounds. */
class HeatResponseTest {

    private static final double ROUNDING = 16;

    private final HeatResponse response = new HeatResponse();
    private final Random random = new Random(7);

    private void run(double k, double heaterLagSeconds, int blocks, boolean isSound) {
        Lag delayed = new Lag(HeatResponse.PROBE_LAG_SECONDS);
        Lag heat = new Lag(heaterLagSeconds);
        for (int i = 0; i < blocks; i++) {
            // A relay's window of 130 s, on for a third of it, and noise that dithers the rounding.
            double share = i % 13 < 4 ? 1 : 0;
            double air = 28 + k * heat.step(delayed.step(share)) + 0.01 * random.nextGaussian();
            response.take(share, Math.rint(air * ROUNDING) / ROUNDING, isSound, true);
        }
    }

    @Test
    void theAirsAnswerToHeatIsLearnedFromTheRelaysOwnCycle() {
        for (double k : new double[] {3, 6, 12}) {
            HeatResponse fresh = new HeatResponse();
            Lag delayed = new Lag(HeatResponse.PROBE_LAG_SECONDS);
            Lag heat = new Lag(250);
            for (int i = 0; i < 12 * 360; i++) {
                double share = i % 13 < 4 ? 1 : 0;
                double air = 28 + k * heat.step(delayed.step(share)) + 0.01 * random.nextGaussian();
                fresh.take(share, Math.rint(air * ROUNDING) / ROUNDING, true, true);
            }
            // The heater's lag is among those that are tried: there, k is the true one.
            assertTrue(fresh.isLearned());
            assertEquals(250, fresh.lagSeconds(), "k " + k);
            assertEquals(k, fresh.kelvin(), 0.05 * k, "k " + k);
        }
    }

    @Test
    void aHeaterOfHalfThePowerAnswersHalfAsMuch() {
        run(6, 250, 24 * 360, true);
        double before = response.comparableKelvin();
        run(3, 250, 8 * 24 * 360, true);
        assertEquals(0.5, response.comparableKelvin() / before, 0.03);
    }

    @Test
    void nothingIsLearnedWhileSomethingElseMovesTheAir() {
        run(6, 250, 24 * 360, false);
        assertFalse(response.isLearned());
    }

    @Test
    void nothingIsLearnedInTheFirstHour() {
        run(6, 250, 360, true);
        assertFalse(response.isLearned());
    }

    @Test
    void nothingIsLearnedOnTheWayToTheSetPointNorInTheFirstHourThere() {
        HeatResponse fresh = new HeatResponse();
        for (int i = 0; i < 12 * 360; i++) {
            // A heater of little power, hours of it, and a relay that hardly ever rests.
            double share = i % 13 < 12 ? 1 : 0;
            fresh.take(share, 20 + i * 0.0025, true, false);
        }
        for (int i = 0; i < 360; i++) {
            assertFalse(fresh.isLearned(), "block " + i);
            fresh.take(i % 13 < 4 ? 1 : 0, 31.5 + 0.1 * StrictMath.sin(i / 2.0), true, true);
        }
    }

    @Test
    void airThatHeatDoesNotMoveTeachesNothing() {
        for (int i = 0; i < 24 * 360; i++) {
            response.take(i % 13 < 4 ? 1 : 0, 31.5 + 0.03 * random.nextGaussian(), true, true);
        }
        assertFalse(response.isLearned());
    }
}
