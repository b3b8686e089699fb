package io.evenwarm.agent.control;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plan.ProgrammePlan;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

final class SetPointProgrammeTest {

    private static final double HOUR = 3600;

    /** 2 K down from 22:00 to 6:00, at 1 K/h down and 2 K/h up. */
    private static SetPointProgramme night() {
        return new SetPointProgramme(
                new ProgrammePlan(
                        List.of(
                                new ProgrammePlan.Step(6 * HOUR, 0),
                                new ProgrammePlan.Step(22 * HOUR, -2)),
                        ProgrammePlan.Clock.TIME_OF_DAY,
                        2,
                        1));
    }

    @Test
    void aNightlyDropGoesDownAndComesBackAtItsRates() {
        SetPointProgramme night = night();
        double offset = 0;
        double[] at = new double[48];
        for (int second = 12 * 3600; second < 60 * 3600; second++) {
            offset = night.step(true, second % 86_400, 1);
            at[second / 3600 - 12] = offset;
        }
        assertEquals(0, at[21 - 12]);
        assertEquals(-1, at[22 - 12], 0.05, "an hour after ten");
        assertEquals(-2, at[24 - 12], 0.05);
        assertEquals(-2, at[29 - 12]);
        assertEquals(0, at[30 - 12], 0.05, "2 K in the hour after six");
        assertEquals(0, at[36 - 12]);
    }

    @Test
    void withoutATrustedClockTheBaseHolds() {
        SetPointProgramme night = night();
        for (int second = 0; second < 4 * 3600; second++) {
            assertEquals(0, night.step(false, 23 * HOUR, 1));
        }
        assertFalse(night.isMoving());
        assertTrue(night.needsTimeOfDay());
    }

    @Test
    void aClockThatIsLostInTheNightBringsTheBaseBackSlowly() {
        SetPointProgramme night = night();
        assertEquals(-2, night.step(true, 23 * HOUR, 1), "a restart in the night goes on with it");
        double before = -2;
        for (int second = 0; second < 2 * 3600; second++) {
            double now = night.step(false, 23 * HOUR, 1);
            assertTrue(now - before <= 0.06, "no jump");
            before = now;
        }
        assertEquals(0, before);
    }

    @Test
    void aRampSinceTheStartEndsAtItsLastStep() {
        SetPointProgramme ramp =
                new SetPointProgramme(
                        new ProgrammePlan(
                                List.of(
                                        new ProgrammePlan.Step(HOUR, -1),
                                        new ProgrammePlan.Step(3 * HOUR, 0.5)),
                                ProgrammePlan.Clock.SINCE_START,
                                60,
                                0.5));
        double offset = 0;
        for (int second = 0; second < 10 * 3600; second++) {
            offset = ramp.step(true, second, 1);
            if (second == 2 * 3600) {
                assertEquals(-0.5, offset, 0.05);
            }
        }
        assertEquals(0.5, offset);
    }

    /** Whatever the clock says, the set point moves no faster than it may. */
    @Test
    void ratesHoldForAnyClock() {
        Random random = new Random(3);
        SetPointProgramme night = night();
        double before = night.step(true, 0, 1);
        double fastest = 0;
        double slowSum = before;
        for (int i = 0; i < 100_000; i++) {
            double now = night.step(random.nextInt(5) > 0, random.nextInt(86_400), 1);
            slowSum += Math.max(-1 / HOUR, Math.min(2 / HOUR, now - slowSum));
            fastest = Math.max(fastest, Math.abs(now - slowSum));
            before = now;
        }
        assertTrue(fastest <= 2 * SetPointProgramme.GRID_KELVIN, "off its rates by " + fastest);
        assertTrue(before <= 0 && before >= -2);
    }
}
