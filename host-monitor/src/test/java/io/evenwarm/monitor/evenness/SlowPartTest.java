package io.evenwarm.monitor.evenness;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;

final class SlowPartTest {

    private static final int SEEDS = 2000;

    private static double[] autoregressive(long seed, int size, double stay) {
        Random random = new Random(seed);
        double[] series = new double[size];
        double x = random.nextGaussian() / Math.sqrt(1 - stay * stay);
        for (int t = 0; t < size; t++) {
            series[t] = x;
            x = stay * x + random.nextGaussian();
        }
        return series;
    }

    /**
     * Long-run variance of AR(1) with innovations of variance 1 is 1/(1−φ)², its variance 1/(1−φ²):
     * n·(1−φ)/(1+φ) independent samples (Bayley and Hammersley 1946; any textbook of time series).
     */
    @Test
    void dependentSamplesCountForAsManyIndependentOnesAsTheirMemoryAllows() {
        for (double stay : new double[] {0, 0.5, 0.9, 0.97}) {
            double longRun = 0;
            for (int seed = 0; seed < 400; seed++) {
                longRun += SlowPart.of(autoregressive(seed, 2880, stay)).longRunVariance() / 400;
            }
            // 8 degrees of freedom, 400 times: a standard deviation of 2.5 %.
            assertEquals(1, longRun * (1 - stay) * (1 - stay), 0.08, "φ = " + stay);
        }
    }

    @Test
    void theTrueMeanIsInTheIntervalInNinetyFivePercentOfSeries() {
        for (double stay : new double[] {0, 0.9, 0.97}) {
            int covered = 0;
            for (int seed = 0; seed < SEEDS; seed++) {
                Estimate mean = SlowPart.of(autoregressive(seed, 1440, stay)).meanEstimate();
                covered += mean.isBeyondZero() ? 0 : 1;
            }
            // Standard deviation of the count: 0.5 %.
            assertEquals(0.95, covered / (double) SEEDS, 0.02, "φ = " + stay);
        }
    }

    @Test
    void projectionsAreThoseOfTheDefinition() {
        double[] series = autoregressive(5, 501, 0.8);
        SlowPart slow = SlowPart.of(series);
        for (int j = 1; j <= slow.degrees(); j++) {
            double sum = 0;
            for (int t = 0; t < series.length; t++) {
                sum += series[t] * Math.cos(Math.PI * j * (t + 0.5) / series.length);
            }
            assertEquals(
                    Math.sqrt(2.0 / series.length) * sum, slow.projection(j - 1), 1e-9, "j = " + j);
        }
        assertEquals(Arrays.stream(series).average().orElseThrow(), slow.mean(), 1e-12);
    }

    @Test
    void aDriftMakesTheMeanUncertain() {
        double[] drifting = autoregressive(1, 1440, 0);
        double without = SlowPart.of(drifting).meanEstimate().standardUncertainty();
        Arrays.setAll(drifting, t -> drifting[t] + 0.01 * t);
        double with = SlowPart.of(drifting).meanEstimate().standardUncertainty();
        assertTrue(with > 10 * without, without + " became " + with);
    }

    @Test
    void aSteadyValueIsKnownExactly() {
        double[] steady = new double[100];
        Arrays.fill(steady, 31.5);
        SlowPart slow = SlowPart.of(steady);
        assertEquals(0, slow.meanEstimate().standardUncertainty(), 1e-12);
        assertEquals(31.5, slow.mean(), 1e-12);
        assertThrows(IllegalArgumentException.class, () -> SlowPart.of(new double[3]));
    }
}
