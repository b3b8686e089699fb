package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Random;
import org.junit.jupiter.api.Test;

class LayerCausesTest {

    private static final double LEAST = 0.08;
    private static final double[] HEIGHT = {1, 0, -1};

    private final Layering layering = new Layering(3);
    private final LayerCauses causes = new LayerCauses(HEIGHT);

    private LayerCauses.Cause judge(double... deviation) {
        causes.judge(deviation, layering, 0, LEAST);
        return causes.cause();
    }

    /** In the trade (common practice, no source), a growing gap from top to bottom is the fan. */
    @Test
    void aWarmTopAndAColdBottomAreTheFan() {
        assertEquals(LayerCauses.Cause.FAN, judge(0.3, -0.02, -0.28));
        assertEquals(0.29, causes.kelvin(), 1e-9);
    }

    @Test
    void aColdTopAndAWarmBottomAreNotTheFan() {
        assertEquals(LayerCauses.Cause.NONE, judge(-0.3, 0.0, 0.3));
    }

    @Test
    void withinWhatIsUsualNothingNeedsACause() {
        assertEquals(LayerCauses.Cause.NONE, judge(0.05, 0, -0.05));
    }

    @Test
    void oneProbeAwayFromTwoThatAgreeIsThatProbe() {
        Random random = new Random(3);
        for (int i = 0; i < 300; i++) {
            int probe = random.nextInt(3);
            double away = (random.nextBoolean() ? 1 : -1) * (0.2 + 5 * random.nextDouble());
            double[] deviation = new double[3];
            for (int j = 0; j < 3; j++) {
                deviation[j] =
                        (j == probe ? away * 2 / 3 : -away / 3) + 0.01 * random.nextGaussian();
            }
            String message = "probe " + probe + " away " + away;
            assertEquals(LayerCauses.Cause.PROBE, judge(deviation), message);
            assertEquals(probe, causes.probe(), message);
            assertEquals(away, causes.kelvin(), 0.05, message);
        }
    }

    @Test
    void ofTwoProbesNoneCanBeToldToLie() {
        assertEquals(LayerCauses.Cause.NONE, judge(-0.5, 0.5, Double.NaN));
    }

    @Test
    void twoProbesInEachOthersPlaceAreASwap() {
        layering.shift(0, 0.4);
        layering.shift(2, -0.4);
        // What top and middle deviate by when each reads the other's place.
        assertEquals(LayerCauses.Cause.SWAP, judge(-0.4, 0.4, 0));
        assertEquals(0, causes.probe());
        assertEquals(1, causes.other());
    }

    /** Top and bottom that should be 0.8 K apart and come to read each other's place. */
    private ProbeTrouble afterTwoProbesChangePlaces(int blocks) {
        layering.shift(0, 0.4);
        layering.shift(2, -0.4);
        ProbeHealth top = new ProbeHealth();
        for (int i = 0; i < blocks + 720; i++) {
            double away = 0.8 * Math.min(1, (double) i / blocks);
            causes.judge(new double[] {-away, Double.NaN, away}, layering, 0, LEAST);
            top.take(0, -away, causes, causes, 0.01, false, false, false);
        }
        return top.trouble();
    }

    @Test
    void twoProbesSwappedAtOnceAreASwapThoughThereIsNoThird() {
        assertEquals(ProbeTrouble.SWAPPED, afterTwoProbesChangePlaces(3));
    }

    @Test
    void ofTwoProbesOneThatDriftsForHoursToTheOthersPlaceIsNoSwap() {
        assertEquals(ProbeTrouble.NONE, afterTwoProbesChangePlaces(4 * 360));
    }
}
