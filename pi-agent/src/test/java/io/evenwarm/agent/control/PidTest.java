package io.evenwarm.agent.control;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/**
 * Against the closed form of the discretisation in Åström and Murray, Feedback Systems, chapter
 * "PID Control", section "Implementation" (from memory), and numbers computed from it by hand.
 */
final class PidTest {

    private static final PidGains GAINS = new PidGains(0.5, 0.01, 2, 5, 20, 1);

    @Test
    void followsTheDiscretisationStepByStep() {
        double[] measured = {30, 30.2, 30.5, 31, 31.6, 31.5};
        double[] output = {0.950000, 0.798333, 0.572444, 0.191704, 0, 0};
        double[] integral = {0.215, 0.228, 0.238, 0.243, 0.254696, 0.258916};
        double[] unlimited = {0.950000, 0.798333, 0.572444, 0.191704, -0.253914, -0.084399};
        PidState state = PidState.startingAt(0.2, 30);
        for (int i = 0; i < measured.length; i++) {
            PidStep step = Pid.step(GAINS, state, 31.5, measured[i], 1);
            assertEquals(output[i], step.output(), 1e-6, "u of step " + (i + 1));
            assertEquals(unlimited[i], step.unlimited(), 1e-6, "v of step " + (i + 1));
            assertEquals(integral[i], step.state().integral(), 1e-6, "I after step " + (i + 1));
            state = step.state();
        }
    }

    @Test
    void aNewSetPointGivesNoDerivativeKick() {
        PidState state = PidState.startingAt(0.2, 30);
        PidStep before = Pid.step(GAINS, state, 30.5, 30, 1);
        PidStep after = Pid.step(GAINS, state, 31, 30, 1);
        assertEquals(before.state().derivative(), after.state().derivative(), 0);
        assertEquals(0.5 * 1 * 0.5, after.unlimited() - before.unlimited(), 1e-12, "k b Δr");
    }

    @Test
    void theFirstStepHasNoDerivative() {
        PidStep first = Pid.step(GAINS, PidState.startingAt(0, 25), 25.5, 25, 1);
        assertEquals(0, first.state().derivative(), 0);
        assertEquals(0.25, first.output(), 1e-12);
    }

    /** v goes to u with time constant Tt when the error itself no longer changes the integral. */
    @Test
    void atALimitTheIntegralIsDrawnBackWithItsTrackingTime() {
        PidGains noIntegral = new PidGains(0.5, 0, 0, 0, 20, 1);
        PidState state = PidState.startingAt(3, 31.5);
        for (int i = 0; i < 20; i++) {
            state = Pid.step(noIntegral, state, 31.5, 31.5, 1).state();
        }
        // Exactly (1 − h/Tt)^n of what was beyond the limit.
        assertEquals(1 + 2 * StrictMath.pow(0.95, 20), state.integral(), 1e-12);
    }

    @Test
    void aDayAtALimitDoesNotWindTheIntegralUp() {
        PidState state = PidState.startingAt(0, 10);
        for (int i = 0; i < 86_400; i++) {
            state = Pid.step(GAINS, state, 31.5, 10, 1).state();
        }
        // At rest ki e = (v − u)/Tt: v = 1 + 20 × 0.01 × 21.5 = 5.3, of which P is 10.75.
        assertEquals(5.3 - 10.75, state.integral(), 1e-6);
        state = PidState.startingAt(0, 10);
        for (int i = 0; i < 1000; i++) {
            state = Pid.step(GAINS, state, 31.5, 10, 3600).state();
            assertTrue(Math.abs(state.integral()) < 1e4, "a late step must not run away");
        }
    }

    @Test
    void gainsThatAreNotNumbersAreRefused() {
        assertThrows(IllegalArgumentException.class, () -> new PidGains(Double.NaN, 0, 0, 0, 1, 1));
        assertThrows(IllegalArgumentException.class, () -> new PidGains(1, 0, 0, 0, 0, 1));
        assertThrows(IllegalArgumentException.class, () -> new PidGains(1, 0, 0, 0, 1, 1.1));
    }
}
