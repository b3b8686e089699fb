package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

final class StrongerHeaterTest {

    private static final double KELVIN_PER_SHARE = 1;

    private final StrongerHeater stronger = new StrongerHeater();

    /**
     * Air at rest at 31.5 °C, then a block of full command. By the lags of 30 and 250 s that warms
     * it by 10/40 · 10/260 K = 0.0096 K for each time the power: 0.029 K at three times.
     */
    @BeforeEach
    void aBlockOfHeat() {
        HeatModel holding = new HeatModel();
        holding.step(0, 31.5, KELVIN_PER_SHARE);
        stronger.restart(holding);
        stronger.step(1, 31.55, KELVIN_PER_SHARE);
    }

    @Test
    void airThatWarmsFasterThanThreeTimesThePowerCouldSpeaksForAnotherSupposition() {
        assertTrue(stronger.explains(0.022, 0));
        assertFalse(stronger.explains(0.020, 0));
    }

    @Test
    void whereAHeaterMayBeMendedWhatChanceLeavesOpenIsNoReasonAgainstThat() {
        assertFalse(stronger.explains(0.001, 0.020));
        assertTrue(stronger.explains(0.001, 0.022));
    }
}
