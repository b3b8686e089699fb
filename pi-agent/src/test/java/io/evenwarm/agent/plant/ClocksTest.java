package io.evenwarm.agent.plant;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.time.Instant;
import org.junit.jupiter.api.Test;

final class ClocksTest {

    private static final Instant NOON = Instant.parse("2026-05-01T12:00:00Z");

    @Test
    void aVirtualClockStandsUntilItIsAdvancedAndItsWallGoesAlong() {
        VirtualClock clock = new VirtualClock(NOON);
        assertEquals(0, clock.nanos());
        clock.advance(2_000_000_000L);
        assertEquals(2_000_000_000L, clock.nanos());
        assertEquals(NOON.plusSeconds(2), clock.now());
        assertThrows(IllegalArgumentException.class, () -> clock.advance(-1));
    }

    @Test
    void steppingTheWallLeavesTheMonotonicSideAlone() {
        VirtualClock clock = new VirtualClock(NOON);
        clock.stepWall(-3_600_000_000_000L, false);
        assertEquals(0, clock.nanos());
        assertEquals(NOON.minusSeconds(3600), clock.now());
        assertFalse(clock.isTrusted());
    }

    @Test
    void aScaledClockRunsFasterFromTheMomentItIsMade() {
        VirtualClock real = new VirtualClock(NOON);
        real.advance(10_000_000_000L);
        ScaledClock scaled = new ScaledClock(real, real, 60);
        assertEquals(real.nanos(), scaled.nanos());
        real.advance(1_000_000_000L);
        assertEquals(70_000_000_000L, scaled.nanos());
        assertEquals(NOON.plusSeconds(70), scaled.now());
    }
}
