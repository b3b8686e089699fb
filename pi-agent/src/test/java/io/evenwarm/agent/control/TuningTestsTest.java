package io.evenwarm.agent.control;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plan.ControlPlan;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Both tests on processes that are known exactly. */
final class TuningTestsTest {

    private static final double SET_POINT = 31.5;
    private static final double HOLDING = 0.3;

    /** A first-order process with dead time about its holding duty, with noise and rounding. */
    private static final class Plant {
        private final ProcessModel model;
        private final double[] delayed;
        private final Random random = new Random(5);
        private double offset;
        private int second;

        Plant(ProcessModel model) {
            this.model = model;
            this.delayed = new double[(int) model.deadTimeSeconds()];
        }

        double step(double duty) {
            int at = second++ % delayed.length;
            double acting = delayed[at];
            delayed[at] = duty - HOLDING;
            offset += (model.gainKelvin() * acting - offset) / model.timeConstantSeconds();
            double noisy = SET_POINT + offset + 0.01 * random.nextGaussian();
            return Math.rint(noisy * 48) / 48;
        }
    }

    private static void run(TuningTest test, Plant process, int seconds) {
        boolean wasOn = false;
        double owed = 0;
        for (int second = 0; second < seconds && !test.isOver(); second++) {
            double duty = test.isDriving() ? test.duty() : HOLDING;
            owed += duty;
            wasOn = owed >= 1;
            owed -= wasOn ? 1 : 0;
            double value = process.step(duty);
            test.step(value, value, 1, wasOn);
        }
    }

    @Test
    void aStepTestFindsTheModel() {
        ProcessModel real = new ProcessModel(8, 600, 60);
        StepTest test = new StepTest(SET_POINT, 33);
        run(test, new Plant(real), 4000);
        ProcessModel found = test.finding().orElseThrow().model().orElseThrow();
        assertEquals(HOLDING, test.finding().get().holdingDuty(), 0.01);
        // What counts for control at once is the slope K/τ and the dead time.
        assertEquals(
                real.gainKelvin() / real.timeConstantSeconds(),
                found.gainKelvin() / found.timeConstantSeconds(),
                0.15 * real.gainKelvin() / real.timeConstantSeconds());
        assertEquals(60, found.deadTimeSeconds(), 15);
    }

    @Test
    void aRelayTestFindsWhereTheLoopWouldSwing() {
        ProcessModel real = new ProcessModel(8, 600, 60);
        RelayTest test = new RelayTest(SET_POINT, 33);
        run(test, new Plant(real), 20_000);
        UltimatePoint found = test.finding().orElseThrow().ultimatePoint().orElseThrow();
        // In closed form with the relay's band e, and the filter's 5 s as dead time: from the level
        // + e the air goes on for θ to a = K d (1 − e^(−θ/τ)) + e e^(−θ/τ), then back to − e.
        double reach = 8 * HOLDING;
        double decay = StrictMath.exp(-65 / 600.0);
        double band = RelayTest.HYSTERESIS_KELVIN;
        double swing = reach * (1 - decay) + band * decay;
        double period = 2 * (65 + 600 * StrictMath.log((reach + swing) / (reach - band)));
        assertEquals(period, found.periodSeconds(), 0.05 * period);
        assertEquals(
                UltimatePoint.fromRelay(HOLDING, swing, band, period).gainPerKelvin(),
                found.gainPerKelvin(),
                0.1 * found.gainPerKelvin());
        // The formula takes the swing for a sine, and here is on the careful side.
        assertTrue(found.gainPerKelvin() < real.ultimatePoint().gainPerKelvin());
    }

    @Test
    void aTestEndsWithoutAResultWhenTheCabinetIsNotSettled() {
        StepTest test = new StepTest(SET_POINT, 33);
        for (int second = 0; second < 2000; second++) {
            test.step(30, 30, 1, false);
        }
        assertTrue(test.failure().orElse("").contains("not settled"), test.failure().toString());
    }

    @Test
    void aRelayTestEndsWhenAProbeGetsTooWarm() {
        RelayTest test = new RelayTest(SET_POINT, 32);
        for (int second = 0; second < 1300; second++) {
            test.step(SET_POINT, SET_POINT, 1, second % 3 == 0);
        }
        assertTrue(test.isDriving());
        test.step(31.9, 32.1, 1, true);
        assertEquals("a probe got too warm", test.failure().orElse(""));
        assertFalse(test.isDriving());
    }

    @Test
    void anAirThatDoesNotAnswerTellsNothing() {
        StepTest test = new StepTest(SET_POINT, 33);
        for (int second = 0; second < 4000; second++) {
            test.step(SET_POINT, SET_POINT, 1, second % 3 == 0);
        }
        assertTrue(test.failure().orElse("").contains("did not answer"));
    }

    @Test
    void whatControlHeldWithGoesOnAfterATest() {
        HeaterControl control = new HeaterControl(ControlPlan.solidStateDefaults());
        for (int second = 0; second < 1800; second++) {
            control.step(SET_POINT, 31.25, 1, false);
        }
        double before = 0;
        for (int second = 0; second < 120; second++) {
            before = control.step(SET_POINT, SET_POINT, 1, false).duty().fraction();
        }
        control.begin(new StepTest(SET_POINT, 33));
        boolean wasOn = false;
        double most = 0;
        double on = 0;
        for (int second = 0; second < 4000; second++) {
            on += before;
            wasOn = on >= 1;
            on -= wasOn ? 1 : 0;
            most = Math.max(most, control.step(SET_POINT, SET_POINT, 1, wasOn).duty().fraction());
        }
        assertEquals(before + Math.max(0.1, before), most, 0.02, "the test's step");
        assertTrue(control.test().orElseThrow().isOver());
        double after = control.step(SET_POINT, SET_POINT, 1, false).duty().fraction();
        assertEquals(before, after, 0.02);
    }

    @Test
    void otherConstantsMakeNoBump() {
        Random random = new Random(11);
        for (int i = 0; i < 200; i++) {
            HeaterControl control = new HeaterControl(ControlPlan.defaults());
            for (int second = 0; second < 1800; second++) {
                control.step(SET_POINT, 31.3, 1, false);
            }
            double value = 31.45 + 0.1 * random.nextDouble();
            double before = 0;
            for (int second = 0; second < 200; second++) {
                before = control.step(SET_POINT, value, 1, false).duty().fraction();
            }
            double gain = 0.2 + 3 * random.nextDouble();
            ControlPlan other =
                    ControlPlan.defaults().tuned(gain, 300 + 2000 * random.nextDouble(), 20);
            control.use(random.nextBoolean() ? other : withGain(gain));
            double after = control.step(SET_POINT, value, 1, false).duty().fraction();
            assertEquals(before, after, 0.005, "case " + i + ", gain " + gain);
        }
    }

    private static ControlPlan withGain(double gain) {
        return new ControlPlan(gain, 900, 0, 1, 132, 12, 12);
    }
}
