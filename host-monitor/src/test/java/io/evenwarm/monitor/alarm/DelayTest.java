package io.evenwarm.monitor.alarm;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/**
 * OPC UA Part 9 v1.05, annex B.1.5: active once the condition was there for the whole on-delay,
 * back once it was away for the whole off-delay.
 */
final class DelayTest {

    private static final long SECOND = 1_000_000_000L;

    private Delay delay = Delay.AT_REST;

    private boolean look(Presence presence, double atSeconds) {
        long now = (long) (atSeconds * SECOND) - 7 * SECOND;
        delay = delay.after(presence, 60 * SECOND, 30 * SECOND, now, now);
        return delay.isRaised();
    }

    @Test
    void itIsRaisedAtExactlyTheOnDelay() {
        assertFalse(look(Presence.PRESENT, 0));
        assertFalse(look(Presence.PRESENT, 59.999));
        assertTrue(look(Presence.PRESENT, 60));
        assertEquals(-7 * SECOND, delay.presentSinceNanos());
    }

    @Test
    void oneLookWithoutTheConditionBeginsTheOnDelayAnew() {
        look(Presence.PRESENT, 0);
        look(Presence.ABSENT, 59);
        look(Presence.PRESENT, 60);
        assertFalse(look(Presence.PRESENT, 119));
        assertTrue(look(Presence.PRESENT, 120));
    }

    @Test
    void itIsDroppedAtExactlyTheOffDelay() {
        look(Presence.PRESENT, 0);
        look(Presence.PRESENT, 60);
        assertTrue(look(Presence.ABSENT, 100));
        assertTrue(look(Presence.ABSENT, 129.999));
        assertFalse(look(Presence.ABSENT, 130));
    }

    @Test
    void oneLookWithTheConditionBeginsTheOffDelayAnew() {
        look(Presence.PRESENT, 0);
        look(Presence.PRESENT, 60);
        look(Presence.ABSENT, 100);
        look(Presence.PRESENT, 129);
        look(Presence.ABSENT, 130);
        assertTrue(look(Presence.ABSENT, 159));
        assertFalse(look(Presence.ABSENT, 160));
    }

    @Test
    void whatIsUnknownNeitherRaisesNorDropsAndCountsForNoDelay() {
        look(Presence.PRESENT, 0);
        assertFalse(look(Presence.UNKNOWN, 1000));
        assertFalse(look(Presence.PRESENT, 1001));
        assertTrue(look(Presence.PRESENT, 1061));
        look(Presence.ABSENT, 1100);
        assertTrue(look(Presence.UNKNOWN, 2000));
        assertTrue(look(Presence.ABSENT, 2001));
        assertFalse(look(Presence.ABSENT, 2031));
    }
}
