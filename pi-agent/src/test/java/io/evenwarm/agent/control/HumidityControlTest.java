package io.evenwarm.agent.control;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plan.HumidityPlan;
import org.junit.jupiter.api.Test;

final class HumidityControlTest {

    private final HumidityControl control = new HumidityControl(new HumidityPlan(85, 6, 60));

    private void hold(double percent, int seconds) {
        for (int i = 0; i < seconds; i++) {
            control.step(percent, 25, 31, 1);
        }
    }

    @Test
    void dryAirIsMoistenedUntilTheTargetAndNotAgainWithinTheDeadBand() {
        hold(81.9, 1);
        assertTrue(control.isHumidifierWanted());
        hold(84.9, 100);
        assertTrue(control.isHumidifierWanted(), "until the target");
        hold(85.1, 1);
        assertFalse(control.isHumidifierWanted());
        hold(83, 200);
        assertFalse(control.isHumidifierWanted(), "within the dead band");
        hold(81, 1);
        assertTrue(control.isHumidifierWanted());
        assertFalse(control.isVentWanted());
    }

    @Test
    void moistAirIsLetOut() {
        hold(88.1, 1);
        assertTrue(control.isVentWanted());
        assertFalse(control.isHumidifierWanted());
        hold(84.9, 60);
        assertFalse(control.isVentWanted());
    }

    @Test
    void nothingSwitchesAgainBeforeItsTime() {
        hold(80, 1);
        assertTrue(control.isHumidifierWanted());
        hold(90, 58);
        assertTrue(control.isHumidifierWanted());
        hold(90, 2);
        assertFalse(control.isHumidifierWanted());
    }

    @Test
    void noMoistureIsAddedWhereItWouldRunDownTheWalls() {
        hold(80, 1);
        assertTrue(control.isHumidifierWanted());
        control.step(80, 30.8, 31, 1);
        assertFalse(control.isHumidifierWanted(), "at once");
    }

    @Test
    void blindBothAreOff() {
        hold(80, 1);
        control.idle();
        assertFalse(control.isHumidifierWanted() || control.isVentWanted());
    }
}
