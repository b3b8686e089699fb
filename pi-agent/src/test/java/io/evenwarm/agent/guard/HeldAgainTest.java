package io.evenwarm.agent.guard;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

final class HeldAgainTest {

    private static final long SECOND = 1_000_000_000L;
    private static final double OFTEN = 0.4;

    private final HeldAgain held = new HeldAgain();
    private long now;

    private void seconds(int seconds, boolean isHolding, boolean isOn, double from, double to) {
        for (int i = 1; i <= seconds; i++) {
            now += SECOND;
            held.update(isHolding, OFTEN, isOn, from + (to - from) * i / seconds, now);
        }
    }

    @Test
    void airThatComesAndGoesWithTheCutOffRelayWithoutACommandIsAStuckHeater() {
        seconds(60, false, false, 32.2, 33.0);
        seconds(50, true, false, 33.0, 32.7);
        seconds(50, false, false, 32.7, 33.0);
        seconds(50, true, false, 33.0, 32.7);
        assertFalse(held.isStuckOn());
        seconds(50, false, false, 32.7, 33.0);
        seconds(1, true, false, 33.0, 33.0);
        assertTrue(held.isStuckOn());
    }

    @Test
    void aCommandInBetweenExplainsTheHeat() {
        for (int i = 0; i < 6; i++) {
            seconds(50, true, false, 33.0, 32.7);
            seconds(10, false, true, 32.7, 32.75);
            seconds(40, false, false, 32.75, 33.0);
        }
        assertFalse(held.isStuckOn());
    }

    @Test
    void airThatHangsAboutTheLimitWithoutSwingingIsNoStuckHeater() {
        for (int i = 0; i < 6; i++) {
            seconds(50, true, false, 33.0, 32.9);
            seconds(50, false, false, 32.9, 33.0);
        }
        assertFalse(held.isStuckOn());
    }
}
