package io.evenwarm.agent.control;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plan.ControlPlan;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

final class HeaterControlTest {

    private final HeaterControl control = new HeaterControl(ControlPlan.defaults());

    @Test
    void aColdCabinetGetsFullHeatFromTheFirstStep() {
        HeatRequest first = control.step(31.5, 21, 1, false);
        assertEquals(1, first.duty().fraction());
        assertTrue(first.heatWanted());
    }

    @Test
    void aWarmCabinetGetsNone() {
        HeatRequest first = control.step(31.5, 33, 1, false);
        assertEquals(0, first.duty().fraction());
        assertFalse(first.heatWanted());
    }

    @Test
    void idleWantsNoHeat() {
        control.step(31.5, 21, 1, false);
        HeatRequest idle = control.idle(1, true);
        assertEquals(0, idle.duty().fraction());
        assertFalse(idle.heatWanted());
    }

    @Test
    void aValueThatIsNoNumberHeatsNothingAndPoisonsNothing() {
        double good = settle(control);
        double[] bad = {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY};
        for (double value : bad) {
            assertFalse(control.step(31.5, value, 1, false).heatWanted());
            assertFalse(control.step(value, 31, 1, false).heatWanted());
            assertFalse(control.step(31.5, 31, value, false).heatWanted());
            assertFalse(control.idle(value, false).heatWanted());
        }
        assertFalse(control.step(31.5, 31, 0, false).heatWanted());
        assertFalse(control.step(31.5, 31, -1, false).heatWanted());
        assertEquals(good, control.step(31.5, 31.5, 1, false).duty().fraction(), 0.02);
    }

    @Test
    void aShortPauseKeepsWhatWasLearntAndALongOneForgetsIt() {
        double learnt = settle(control);
        for (int second = 0; second < 60; second++) {
            control.idle(1, false);
        }
        assertEquals(learnt, control.step(31.5, 31.5, 1, false).duty().fraction(), 0.01);
        for (int second = 0; second < 7200; second++) {
            control.idle(1, false);
        }
        assertEquals(0, control.step(31.5, 31.5, 1, false).duty().fraction(), 1e-9);
    }

    @Test
    void whatHeldTheCabinetBeforeIsWhereItBegins() {
        double learnt = settle(control);
        HeaterControl next = new HeaterControl(ControlPlan.defaults());
        next.beginWith(learnt);
        assertEquals(learnt, next.step(31.5, 31.5, 1, false).duty().fraction(), 0.001);
        // It is a place to begin from: air that is too warm takes heat away as ever.
        HeaterControl warm = new HeaterControl(ControlPlan.defaults());
        warm.beginWith(learnt);
        assertEquals(0, warm.step(31.5, 33.4, 1, false).duty().fraction(), 1e-9);
        HeaterControl wrong = new HeaterControl(ControlPlan.defaults());
        wrong.beginWith(7);
        assertEquals(1, wrong.step(31.5, 31.5, 1, false).duty().fraction(), 1e-9);
    }

    @Test
    void aCabinetIsHeldOnceItHasBeenNearItsSetPointForHalfAnHour() {
        double learnt = settle(control);
        for (int second = 0; second < 3600; second++) {
            control.step(31.5, 31.5, 1, false);
        }
        assertEquals(learnt, control.heldDuty().orElseThrow(), 0.05 * learnt);
        control.step(31.5, 30.9, 1, false);
        assertEquals(OptionalDouble.empty(), control.heldDuty());
        for (int second = 0; second < 1790; second++) {
            control.step(31.5, 31.5, 1, false);
        }
        assertEquals(OptionalDouble.empty(), control.heldDuty());
    }

    @Test
    void aWeightedSetPointChangesTheDutyByItsShareAtOnceAndByTheRestInTime() {
        HeaterControl weighted = new HeaterControl(new ControlPlan(0.3, 1000, 0, 0.5, 140, 12, 12));
        double before = settle(weighted);
        double held = before - Math.max(0, before - 1);
        double after = weighted.step(31.7, 31.5, 1, false).duty().fraction();
        double gain = 0.3 * StrictMath.sqrt(held / 0.3);
        assertEquals(gain * 0.5 * 0.2, after - before, 0.002);
    }

    @Test
    void behindAnOpenDoorTheDutyThatHeldTheCabinetGoesOn() {
        double learnt = settle(control);
        double most = 0;
        for (int second = 1; second <= 300; second++) {
            double air = 31.5 - 4 * Math.min(1, second / 40.0);
            double duty = control.step(31.5, air, 1, false).duty().fraction();
            most = Math.max(most, second > 20 ? duty : 0);
        }
        assertEquals(learnt, most, 0.1);
    }

    @Test
    void heatThatWasWithheldForAMomentComesBackBesideWhatIsAskedFor() {
        settle(control);
        for (int second = 0; second < 3600; second++) {
            control.step(31.5, 31.2, 1, false);
        }
        double learnt = 0;
        for (int second = 0; second < 3600; second++) {
            learnt = control.step(31.5, 31.5, 1, false).duty().fraction();
        }
        assertTrue(learnt > 0.2, "held with " + learnt);
        assertEquals(30, moreAfterGivingBack(30, learnt), 1);
    }

    private double moreAfterGivingBack(double seconds, double learnt) {
        control.giveBack(seconds);
        double more = 0;
        for (int second = 0; second < 300; second++) {
            more += control.step(31.5, 31.5, 1, false).duty().fraction() - learnt;
        }
        return more;
    }

    /** Control itself made up for the rest while the dip lasted. */
    @Test
    void whereLittleHeatIsNeededOnlyAPartOfWhatWasWithheldComesBack() {
        settle(control);
        double learnt = 0;
        for (int second = 0; second < 3600; second++) {
            learnt = control.step(31.5, 31.5, 1, false).duty().fraction();
        }
        assertTrue(learnt < 0.15, "held with " + learnt);
        assertEquals(30 * learnt / 0.2, moreAfterGivingBack(30, learnt), 1);
        assertEquals(learnt, control.step(31.5, 31.5, 1, false).duty().fraction(), 0.01);
    }

    /** Full heat for the room would be let go into the air when somebody shuts the door. */
    @Test
    void aDoorLeftOpenForHoursGetsALittleMoreHeatAndFullHeatOnlyWhenItWasNoDoor() {
        double learnt = settle(control);
        double most = 0;
        for (int second = 1; second <= 3 * 3600; second++) {
            double air = 31.5 - 4 * Math.min(1, second / 40.0);
            double duty = control.step(31.5, air, 1, false).duty().fraction();
            most = Math.max(most, second > 20 ? duty : 0);
        }
        assertEquals(learnt + SuddenCold.EXTRA_DUTY, most, 0.1);
        for (int second = 0; second <= 3700; second++) {
            most = control.step(31.5, 27.5, 1, false).duty().fraction();
        }
        assertEquals(1, most);
    }

    @Test
    void whenTheDoorIsShutAndTheAirIsBackHeatIsLimitedNoLonger() {
        settle(control);
        for (int second = 1; second <= 3600; second++) {
            control.step(31.5, 31.5 - 4 * Math.min(1, second / 40.0), 1, false);
        }
        double duty = 0;
        for (int second = 1; second <= 300; second++) {
            duty =
                    control.step(31.5, Math.min(29.5, 27.5 + second / 40.0), 1, false)
                            .duty()
                            .fraction();
        }
        assertTrue(duty > 0.9, "2 K below the set point with a duty of " + duty);
    }

    /** Ripple that takes the output to 0 in every cycle must not pass for cold. */
    @Test
    void rippleAboutTheSetPointLeavesTheIntegralWhereItIs() {
        double learnt = settle(control);
        double sum = 0;
        for (int second = 0; second < 7200; second++) {
            double air = 31.5 + 1.5 * StrictMath.sin(2 * StrictMath.PI * second / 120);
            control.step(31.5, air, 1, false);
        }
        for (int second = 0; second < 600; second++) {
            sum += control.step(31.5, 31.5, 1, false).duty().fraction();
        }
        assertTrue(sum / 600 <= learnt + 0.02, "held with " + learnt + ", then " + sum / 600);
    }

    /** Half an hour a quarter of a kelvin below the set point: the integral has risen. */
    private static double settle(HeaterControl control) {
        for (int second = 0; second < 1800; second++) {
            control.step(31.5, 31.25, 1, false);
        }
        double duty = 0;
        for (int second = 0; second < 60; second++) {
            duty = control.step(31.5, 31.5, 1, false).duty().fraction();
        }
        assertTrue(duty > 0.02 && duty < 0.9, "settled at " + duty);
        return duty;
    }
}
