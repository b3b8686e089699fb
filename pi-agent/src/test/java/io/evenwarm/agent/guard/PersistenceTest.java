package io.evenwarm.agent.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.guard.Persistence.Presence;
import org.junit.jupiter.api.Test;

/** Delays as in OPC UA Part 9, annex B.1.5. */
final class PersistenceTest {

    private static final long SECOND = 1_000_000_000L;
    private static final double LIMIT_CELSIUS = 33.0;
    private static final double DEAD_BAND_KELVIN = 0.3;

    private final Persistence persistence = new Persistence(60, 0);

    private boolean at(int second, double celsius) {
        double limit = LIMIT_CELSIUS - (persistence.isRaised() ? DEAD_BAND_KELVIN : 0);
        return persistence.update(Presence.of(celsius > limit), second * SECOND);
    }

    /**
     * Limit 33.0, dead band 0.3, on-delay 60 s, off-delay 0 (computed from B.1.5): 33.1 for 59 s is
     * no alarm and for 60 s is one; at 32.8 it stays, at 32.7 it goes.
     */
    @Test
    void itIsRaisedAfterTheWholeDelayAndDroppedBelowTheDeadBand() {
        assertFalse(at(0, 33.1));
        assertFalse(at(59, 33.1));
        assertTrue(at(60, 33.1));
        assertEquals(0, persistence.presentSinceNanos());
        assertTrue(at(61, 32.8));
        assertFalse(at(62, 32.7));
    }

    @Test
    void aGapStartsTheDelayAnew() {
        at(0, 33.1);
        at(59, 33.0);
        assertFalse(at(60, 33.1));
        assertFalse(at(119, 33.1));
        assertTrue(at(120, 33.1));
        assertEquals(60 * SECOND, persistence.presentSinceNanos());
    }

    @Test
    void theOffDelayMustPassWhole() {
        Persistence slow = new Persistence(0, 30);
        assertTrue(slow.update(Presence.PRESENT, 0));
        assertTrue(slow.update(Presence.ABSENT, SECOND));
        assertTrue(slow.update(Presence.PRESENT, 20 * SECOND));
        assertTrue(slow.update(Presence.ABSENT, 21 * SECOND));
        assertTrue(slow.update(Presence.ABSENT, 50 * SECOND));
        assertFalse(slow.update(Presence.ABSENT, 51 * SECOND));
    }

    @Test
    void nothingChangesWhileNothingIsKnown() {
        Persistence brief = new Persistence(2, 2);
        brief.update(Presence.PRESENT, 0);
        assertFalse(brief.update(Presence.UNKNOWN, 2 * SECOND));
        assertFalse(brief.update(Presence.PRESENT, 3 * SECOND));
        assertTrue(brief.update(Presence.PRESENT, 5 * SECOND));
        assertTrue(brief.update(Presence.UNKNOWN, 500 * SECOND));
    }

    @Test
    void aConditionGoesOnFromTheTimeBeforeARestart() {
        Persistence before = new Persistence(60, 60);
        before.update(Presence.PRESENT, 0);
        before.update(Presence.PRESENT, 45 * SECOND);
        assertEquals(45, before.presentSeconds());
        Persistence after = new Persistence(60, 60);
        after.resume(before.presentSeconds());
        assertFalse(after.update(Presence.UNKNOWN, 0));
        assertFalse(after.update(Presence.PRESENT, 100 * SECOND));
        assertFalse(after.update(Presence.PRESENT, 114 * SECOND));
        assertEquals(59, after.presentSeconds());
        assertTrue(after.update(Presence.PRESENT, 115 * SECOND));
        // It was seen only since this start.
        assertEquals(100 * SECOND, after.presentSinceNanos());
        assertEquals(60, after.presentSeconds());
        // The off-delay has no head start.
        assertTrue(after.update(Presence.ABSENT, 116 * SECOND));
        assertTrue(after.update(Presence.ABSENT, 175 * SECOND));
        assertFalse(after.update(Presence.ABSENT, 176 * SECOND));
    }

    @Test
    void oneThatIsGoneAfterTheRestartBeginsAnew() {
        persistence.resume(1000);
        assertTrue(persistence.update(Presence.PRESENT, 0));
        Persistence other = new Persistence(60, 0);
        other.resume(59);
        assertFalse(other.update(Presence.ABSENT, 0));
        assertFalse(other.update(Presence.PRESENT, SECOND));
        assertFalse(other.update(Presence.PRESENT, 60 * SECOND));
        assertTrue(other.update(Presence.PRESENT, 61 * SECOND));
    }
}
