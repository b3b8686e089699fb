package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

final class HeatInLayersTest {

    private static final int DAY = 24 * 360;
    private static final double OFFSET_KELVIN = 0.07;
    private static final double SLOPE_KELVIN = 0.9;

    private final HeatInLayers layers = new HeatInLayers();

    /** So many blocks, with a share that swings by a tenth over the day around its mean. */
    private void run(int blocks, double commanded, double power) {
        for (int i = 0; i < blocks; i++) {
            double share = commanded * (1 + 0.1 * Math.sin(2 * Math.PI * i / DAY));
            layers.take(share, OFFSET_KELVIN + SLOPE_KELVIN * power * share);
        }
    }

    @Test
    void moreHeatThatOpensTheGapIsNoWeakHeater() {
        run(DAY, 0.10, 1);
        run(2 * DAY, 0.20, 1);
        assertFalse(layers.isBorneOut(0.75));
    }

    @Test
    void lessHeatThatClosesTheGapIsNoWeakHeater() {
        run(DAY, 0.20, 1);
        run(2 * DAY, 0.10, 1);
        assertFalse(layers.isBorneOut(0.75));
    }

    @Test
    void moreHeatThatLeavesTheGapAsItWasBearsAWeakHeaterOut() {
        run(DAY, 0.10, 1);
        run(2 * DAY, 0.10 / 0.75, 0.75);
        assertTrue(layers.isBorneOut(0.75));
    }

    @Test
    void aWeakHeaterIsBorneOutInSteadyWeatherToo() {
        for (int i = 0; i < DAY; i++) {
            layers.take(0.19, OFFSET_KELVIN + SLOPE_KELVIN * 0.19);
        }
        for (int i = 0; i < 2 * DAY; i++) {
            layers.take(0.36, OFFSET_KELVIN + SLOPE_KELVIN * 0.19);
        }
        assertTrue(layers.isBorneOut(0.53));
    }

    /** The relay's cycle says 0.9 of the power; the gap between the layers says 0.75. */
    @Test
    void theLayersAloneTellAWeakHeaterAndNoSoundOne() {
        run(DAY, 0.20, 1);
        run(DAY, 0.25, 1);
        assertFalse(layers.isBelow(0.86, 0.9));
        run(2 * DAY, 0.20 / 0.75, 0.75);
        assertTrue(layers.isBelow(0.86, 0.9));
        assertFalse(layers.isBelow(0.7, 0.9));
    }

    @Test
    void withoutProbesAtTopAndBottomTheLayersTellNothing() {
        layers.take(0.3, Double.NaN);
        assertFalse(layers.isBelow(0.86, 0.5));
    }

    /**
     * A top that drifts down closes the gap until it is set aside: what it said is no weak heater.
     */
    @Test
    void anHourAfterAProbeWasSetAsideTheLayersTellNothing() {
        run(DAY, 0.20, 1);
        run(DAY, 0.20, 0.7);
        assertTrue(layers.isBelow(0.86, 0.9));
        assertTrue(layers.isBorneOut(0.8));
        for (int i = 0; i < 360; i++) {
            layers.take(0.20, Double.NaN);
        }
        assertFalse(layers.isBelow(0.86, 0.9));
        assertFalse(layers.isBorneOut(0.8));
        run(10, 0.20, 0.7);
        assertTrue(layers.isBelow(0.86, 0.9));
    }

    /** Either probe may be off by half a step, and the gap says the same whatever heat comes. */
    @Test
    void aGapThatRestsWithinAStepBearsOutNothing() {
        run(DAY, 0.10, 1);
        for (int i = 0; i < 3 * DAY; i++) {
            layers.take(0.13, OFFSET_KELVIN + SLOPE_KELVIN * 0.10);
        }
        assertFalse(layers.isBorneOut(0.6));
        assertFalse(layers.isBelow(0.86, 0.9));
    }

    @Test
    void aGapThatRestsMoreThanAStepBehindBearsAWeakHeaterOut() {
        run(DAY, 0.10, 1);
        for (int i = 0; i < 3 * DAY; i++) {
            layers.take(0.16, OFFSET_KELVIN + SLOPE_KELVIN * 0.10);
        }
        assertTrue(layers.isBorneOut(0.6));
    }

    @Test
    void nothingIsBorneOutBeforeTheLineIsLearned() {
        run(DAY / 2, 0.10, 1);
        assertFalse(layers.isBorneOut(0.5));
    }

    @Test
    void withoutProbesAtTopAndBottomNothingSpeaksAgainstIt() {
        layers.take(0.3, Double.NaN);
        assertTrue(layers.isBorneOut(0.75));
    }

    /**
     * The gain that rounding has for a small swing: the slope of the mean reading over the true
     * temperature, from the normal distribution's mass on either side of each threshold.
     */
    @Test
    void roundingLeavesOfASmallSwingWhatTheProbesPlaceBetweenTwoStepsSays() {
        double width = 0.0625;
        double noise = 0.28 * width;
        for (double place : new double[] {0, 0.25, 0.5}) {
            double gain = 0;
            for (int threshold = -20; threshold < 20; threshold++) {
                double away = ((threshold + 0.5) * width - place * width) / noise;
                gain += width * Math.exp(-away * away / 2) / (noise * Math.sqrt(2 * Math.PI));
            }
            double sigma = noise / width;
            double first =
                    1
                            - 2
                                    * Math.exp(-2 * Math.PI * Math.PI * sigma * sigma)
                                    * Math.cos(2 * Math.PI * place);
            assertEquals(first, gain, 0.01, "place " + place);
        }
    }
}
