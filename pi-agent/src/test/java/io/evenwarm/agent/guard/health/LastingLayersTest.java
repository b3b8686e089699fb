package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

final class LastingLayersTest {

    private final LastingLayers layers = new LastingLayers(1);
    private final Lag[] away = {new Lag(1800)};

    private void learn(double share, double kelvin, int blocks) {
        away[0].set(kelvin);
        for (int i = 0; i < blocks; i++) {
            layers.learn(share, away, 1);
        }
        layers.fit();
    }

    @Test
    void aLineThatTwoHeatsShowIsDrawnOutToAThird() {
        Random random = new Random(11);
        for (int i = 0; i < 50; i++) {
            LastingLayers drawn = new LastingLayers(1);
            double offset = random.nextDouble() - 0.5;
            double slope = 3 * random.nextDouble();
            for (double share : new double[] {0.1, 0.3}) {
                away[0].set(offset + slope * share);
                for (int block = 0; block < 4320; block++) {
                    drawn.learn(share, away, 1);
                }
            }
            drawn.fit();
            assertEquals(offset + slope * 0.5, drawn.kelvin(0, 0.5), 0.01, "slope " + slope);
        }
    }

    @Test
    void whatOneHeatShowsHoldsThereAndIsUnsureElsewhere() {
        learn(0.2, 0.3, 8640);
        assertEquals(0.3, layers.kelvin(0, 0.2), 1e-9);
        assertEquals(0, layers.unsureKelvin(0.2, 0.005), 1e-9);
        // Half a cabinet's height may part by a kelvin more at full heat: so much for 0.1 of it.
        assertEquals(0.1, layers.unsureKelvin(0.3, 0.005), 1e-9);
        learn(0.3, 0.4, 360);
        assertTrue(layers.unsureKelvin(0.4, 0.005) < 0.03);
    }

    @Test
    void onlyMoreOrLessHeatThanEverIsNew() {
        learn(0.1, 0.2, 360);
        learn(0.3, 0.4, 360);
        assertFalse(layers.isNew(0.1));
        assertFalse(layers.isNew(0.2));
        assertTrue(layers.isNew(0.05));
        assertTrue(layers.isNew(0.35));
    }

    @Test
    void aYoungLineHoldsWhereItWasSeenForTwoHoursAndMayBeAKelvinOffBeyond() {
        learn(0.15, 0.2, 1000);
        learn(0.25, 0.2, 1000);
        assertEquals(0, layers.youngKelvin(0.2), 1e-9);
        assertEquals(0, layers.youngKelvin(0.25), 1e-9);
        // Two hundredths of heat are learned together: the middle of them stands for all.
        assertEquals(0.15, layers.youngKelvin(0.4), 0.011);
        assertEquals(0.1, layers.youngKelvin(0.05), 0.011);
        learn(0.41, 0.4, 719);
        assertTrue(layers.youngKelvin(0.41) > 0.1);
        learn(0.41, 0.4, 1);
        assertEquals(0, layers.youngKelvin(0.41), 1e-9);
    }
}
