package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

class StillLayersTest {

    private static final double[] HEIGHT = {1, 0, -1, 1};
    private static final double SHARE = 0.2;
    private static final int HOUR = 360;

    private final StillLayers still = new StillLayers(HEIGHT);

    private int take(int blocks, double share, double... deviation) {
        int found = -1;
        for (int i = 0; i < blocks; i++) {
            found = still.take(deviation, share, true);
        }
        return found;
    }

    private int drift(int probe, double kelvinPerHour, int hours) {
        double[] deviation = {1.5, -0.3, -1.2, Double.NaN};
        int found = -1;
        for (int i = 0; i < hours * HOUR && found < 0; i++) {
            deviation[probe] += kelvinPerHour / HOUR;
            found = still.take(deviation.clone(), SHARE, true);
        }
        return found;
    }

    private void learn() {
        assertEquals(-1, take(5 * HOUR, SHARE, 1.5, -0.3, -1.2, Double.NaN));
    }

    @Test
    void aTopThatComesDownAloneDrifts() {
        learn();
        assertEquals(0, drift(0, -0.1, 14));
    }

    @Test
    void aMiddleOrABottomThatDriftsIsNotTheTop() {
        learn();
        assertEquals(-1, drift(1, 0.1, 14));
        still.restart();
        learn();
        assertEquals(-1, drift(2, -0.1, 14));
    }

    @Test
    void layersThatComeTogetherWithLessHeatTellOfNoProbe() {
        learn();
        assertEquals(-1, take(5 * HOUR, SHARE / 3, 0.5, -0.1, -0.4, Double.NaN));
    }

    @Test
    void layersThatAllComeTogetherTellOfTheFan() {
        learn();
        assertEquals(-1, take(5 * HOUR, SHARE, 0, 0, 0, Double.NaN));
    }

    /** The room takes its part, too. */
    @Test
    void gapsThatBothFallBehindTheHeatTellOfNoProbe() {
        learn();
        assertEquals(-1, take(5 * HOUR, SHARE, 1.1, -0.22, -0.88, Double.NaN));
    }

    /** It is the warmest that steers, so that the other may say what it likes. */
    @Test
    void ofTwoProbesAtTheTopTheWarmerOneCounts() {
        assertEquals(-1, take(5 * HOUR, SHARE, 1.5, -0.3, -1.2, 1.5));
        assertEquals(-1, take(5 * HOUR, SHARE, -0.5, -0.3, -1.2, 1.5));
    }
}
