package io.evenwarm.agent.control;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

final class TuningRuleTest {

    /** Skogestad, J. Process Control 13 (2003) 291; the numbers are computed from its rule. */
    @Test
    void simcFollowsSkogestad() {
        TuningRule.Constants slow = TuningRule.simcPi(new ProcessModel(8, 1200, 60), 60);
        assertEquals(1.25, slow.gainPerKelvin(), 1e-6);
        assertEquals(480, slow.integralSeconds(), 1e-6);
        TuningRule.Constants unit = TuningRule.simcPi(new ProcessModel(1, 1, 1), 1);
        assertEquals(0.5, unit.gainPerKelvin(), 1e-6);
        assertEquals(1, unit.integralSeconds(), 1e-6);
    }

    /** Grimholt and Skogestad, J. Process Control 70 (2018) 36: τD = θ/3 in series. */
    @Test
    void improvedSimcAddsADerivativeOfAThirdOfTheDeadTimeInSeries() {
        TuningRule.Constants ideal = TuningRule.simcPid(new ProcessModel(8, 1200, 60), 60);
        // Series 1.25 (1 + 1/(480 s)) (1 + 20 s) multiplied out.
        assertEquals(1.25 * (1 + 20 / 480.0), ideal.gainPerKelvin(), 1e-9);
        assertEquals(500, ideal.integralSeconds(), 1e-9);
        assertEquals(480 * 20 / 500.0, ideal.derivativeSeconds(), 1e-9);
    }

    /** Tyreus and Luyben, Ind. Eng. Chem. Res. 31 (1992) 2625, from memory. */
    @Test
    void tyreusLuybenFollowsItsPublishedFactors() {
        UltimatePoint at = new UltimatePoint(8.5024, 7.4415);
        assertEquals(2.6570, TuningRule.tyreusLuybenPi(at).gainPerKelvin(), 1e-4);
        assertEquals(16.3713, TuningRule.tyreusLuybenPi(at).integralSeconds(), 1e-4);
        assertEquals(3.8647, TuningRule.tyreusLuybenPid(at).gainPerKelvin(), 1e-4);
        assertEquals(16.3713, TuningRule.tyreusLuybenPid(at).integralSeconds(), 1e-4);
        assertEquals(1.1812, TuningRule.tyreusLuybenPid(at).derivativeSeconds(), 1e-4);
    }

    /** The usual Ziegler–Nichols chart. */
    @Test
    void zieglerNicholsFollowsTheChart() {
        UltimatePoint at = new UltimatePoint(8.5024, 7.4415);
        TuningRule.Constants pid = TuningRule.zieglerNicholsPid(at);
        assertEquals(5.1015, pid.gainPerKelvin(), 1e-4);
        assertEquals(3.7208, pid.integralSeconds(), 1e-4);
        assertEquals(0.9302, pid.derivativeSeconds(), 1e-4);
        assertEquals(8.5024 / 2.2, TuningRule.zieglerNicholsPi(at).gainPerKelvin(), 1e-9);
        assertEquals(7.4415 / 1.2, TuningRule.zieglerNicholsPi(at).integralSeconds(), 1e-9);
    }

    /** Åström and Hägglund, Automatica 20 (1984) 645, formulas from memory. */
    @Test
    void aRelaysSwingTellsTheUltimateGain() {
        assertEquals(3.18310, UltimatePoint.fromRelay(0.5, 0.2, 0, 1).gainPerKelvin(), 1e-5);
        assertEquals(3.28749, UltimatePoint.fromRelay(0.5, 0.2, 0.05, 1).gainPerKelvin(), 1e-5);
    }

    /** The true point of K 1, τ 10, θ 2, computed from phase and size. */
    @Test
    void theUltimatePointOfAModelIsWhereItsPhaseIsHalfATurn() {
        UltimatePoint at = new ProcessModel(1, 10, 2).ultimatePoint();
        assertEquals(8.5024, at.gainPerKelvin(), 1e-4);
        assertEquals(7.4415, at.periodSeconds(), 1e-4);
    }

    /**
     * A relay on a first-order process with dead time in closed form: a = K d (1 − e^(−θ/τ)), Pu =
     * 2 τ ln(2 e^(θ/τ) − 1). The sine's formula is 17 % low on it, as is known of it.
     */
    @Test
    void aSimulatedRelayOnAFirstOrderProcessSwingsAsTheClosedFormSays() {
        double gain = 1;
        double tau = 10;
        double dead = 2;
        double h = 0.001;
        double[] delayed = new double[(int) (dead / h)];
        double y = 0;
        double u = 1;
        double highest = 0;
        double rose = 0;
        double period = 0;
        for (int i = 0; i < 100_000; i++) {
            double before = y;
            double acting = delayed[i % delayed.length];
            delayed[i % delayed.length] = u;
            y += h * (gain * acting - y) / tau;
            u = y > 0 ? -1 : 1;
            if (before <= 0 && y > 0) {
                period = i * h - rose;
                rose = i * h;
            }
            highest = i > 50_000 ? Math.max(highest, y) : 0;
        }
        double swing = gain * (1 - StrictMath.exp(-dead / tau));
        assertEquals(0.181269, swing, 1e-6);
        assertEquals(swing, highest, 0.01 * swing);
        double closedPeriod = 2 * tau * StrictMath.log(2 * StrictMath.exp(dead / tau) - 1);
        assertEquals(7.33179, closedPeriod, 1e-5);
        assertEquals(closedPeriod, period, 0.01 * closedPeriod);
        double seen = UltimatePoint.fromRelay(1, swing, 0, closedPeriod).gainPerKelvin();
        assertEquals(7.0240, seen, 1e-4);
    }

    /** C. L. Smith's two points, from memory. */
    @Test
    void twoPointsOfAStepGiveTheModelBack() {
        ProcessModel model = ProcessModel.fromTwoPoints(8, 460, 1260);
        assertEquals(1200, model.timeConstantSeconds(), 1e-9);
        assertEquals(60, model.deadTimeSeconds(), 1e-9);
        assertEquals(0.28347 * 4, model.responseKelvin(0.5, 460), 1e-4);
        assertEquals(0.63212 * 4, model.responseKelvin(0.5, 1260), 1e-4);
    }

    /** Skogestad (2003), Table 1, from memory: Ms 1.59 for SIMC PI with τc = θ. */
    @Test
    void theSensitivityPeakOfTightSimcIsThePublishedOne() {
        ProcessModel model = new ProcessModel(1, 8, 1);
        double peak = Robustness.peakSensitivity(model, TuningRule.simcPi(model, 1));
        assertEquals(1.59, peak, 0.01);
        assertTrue(
                Robustness.peakSensitivity(
                                model, TuningRule.zieglerNicholsPi(model.ultimatePoint()))
                        > 1.8);
    }
}
