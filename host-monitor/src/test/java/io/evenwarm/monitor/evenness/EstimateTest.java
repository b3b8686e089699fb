package io.evenwarm.monitor.evenness;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

final class EstimateTest {

    /** GUM (JCGM 100:2008), table G.2, 95 %. From memory of the table. */
    @Test
    void coverageFactorsAreStudents() {
        assertEquals(12.71, new Estimate(0, 1, 1).coverageFactor(), 0.005);
        assertEquals(2.31, new Estimate(0, 1, 8).coverageFactor(), 0.005);
        assertEquals(2.13, new Estimate(0, 1, 15).coverageFactor(), 0.005);
        assertEquals(1.960, new Estimate(0, 1, Double.POSITIVE_INFINITY).coverageFactor(), 0.0005);
    }

    /** GUM, 5.1.2 and G.4.1: root of the sum of squares; Welch and Satterthwaite. */
    @Test
    void independentPartsAddAsSquaresAndSoDoTheirDegreesOfFreedom() {
        Estimate sum = new Estimate(1, 3, 10).plus(new Estimate(2, 4, 5));
        assertEquals(3, sum.value());
        assertEquals(5, sum.standardUncertainty(), 1e-12);
        assertEquals(625 / (81 / 10.0 + 256 / 5.0), sum.degreesOfFreedom(), 1e-9);
        Estimate known = new Estimate(1, 3, 10).withSystematic(4);
        assertEquals(625 / (81 / 10.0), known.degreesOfFreedom(), 1e-9);
    }

    @Test
    void whatIsNoNumberIsRefused() {
        assertThrows(IllegalArgumentException.class, () -> new Estimate(Double.NaN, 1, 1));
        assertThrows(IllegalArgumentException.class, () -> new Estimate(1, Double.NaN, 1));
        assertThrows(IllegalArgumentException.class, () -> new Estimate(1, 1, 0));
    }

    /** GUM, 4.3.7 and F.2.2.1: a/√3 of a half width, q/√12 of a smallest step. */
    @Test
    void aProbesUncertaintyIsOfItsClassUntilItWasCompared() {
        ProbeQuality asBought = ProbeQuality.uncompared(0.0625, 0.5);
        assertEquals(
                Math.hypot(0.5 / Math.sqrt(3), 0.0625 / Math.sqrt(12)),
                asBought.standardUncertainty(0),
                1e-12);
        ProbeQuality compared = new ProbeQuality(0.0625, 0.5, -0.2, OptionalDouble.of(0.03), 0.05);
        assertEquals(
                Math.sqrt(0.03 * 0.03 + 0.05 * 0.05 / 3 + 0.0625 * 0.0625 / 12),
                compared.standardUncertainty(0),
                1e-12);
    }

    /** The mean of many readings that move is better than the smallest step. */
    @Test
    void aStepCountsWholeForASteadyValueAndHardlyForOneThatMoves() {
        java.util.Random random = new java.util.Random(11);
        for (double scatter : new double[] {0.2, 0.35, 0.5}) {
            double squares = 0;
            int values = 400;
            for (int v = 0; v < values; v++) {
                double truth = random.nextDouble();
                double mean = 0;
                for (int i = 0; i < 4000; i++) {
                    mean += Math.rint(truth + scatter * random.nextGaussian()) / 4000;
                }
                squares += (mean - truth) * (mean - truth) / values;
            }
            double seen = Math.sqrt(squares - scatter * scatter / 4000);
            double said = ProbeQuality.uncompared(1, 0).stepUncertainty(scatter);
            assertEquals(seen, said, 0.3 * said + 0.004, "scatter " + scatter);
        }
        assertEquals(1 / Math.sqrt(12), ProbeQuality.uncompared(1, 0).stepUncertainty(0), 1e-12);
    }
}
