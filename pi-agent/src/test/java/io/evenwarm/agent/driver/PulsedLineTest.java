package io.evenwarm.agent.driver;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.port.OutputException;
import io.evenwarm.agent.testing.FakeOutput;
import io.evenwarm.agent.testing.PulsedEnable;
import java.util.Random;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;

final class PulsedLineTest {

    private static final long MILLI = 1_000_000L;
    private static final long HOLD_MILLIS = 3500;

    private final AtomicLong now = new AtomicLong();
    private final PulsedEnable enable = new PulsedEnable(now::get, HOLD_MILLIS * MILLI);
    private final PulsedLine line = new PulsedLine(enable);

    private boolean isClosedAfter(long millis) {
        now.addAndGet(millis * MILLI);
        return enable.isClosed();
    }

    @Test
    void theRelayStaysClosedWhileTicksComeAlsoWhenSomeAreMissed() throws OutputException {
        Random random = new Random(11);
        assertFalse(enable.isClosed());
        line.drive(true);
        for (int tick = 0; tick < 1000; tick++) {
            // On time, or up to two ticks left out.
            assertTrue(isClosedAfter(1000 * (1 + random.nextInt(3)) + random.nextInt(200)));
            line.drive(true);
        }
    }

    /** Whichever level the last tick left: the kernel keeps it when the process dies. */
    @Test
    void theRelayOpensWithinTheHoldTimeOnceTicksStop() throws OutputException {
        for (int last = 1; last <= 2; last++) {
            line.drive(true);
            assertTrue(isClosedAfter(HOLD_MILLIS - 1), "level " + enable.level());
            assertFalse(isClosedAfter(1), "level " + enable.level());
            assertFalse(isClosedAfter(1_000_000));
        }
    }

    @Test
    void drivenOffTheLineIsLowAndTheRelayOpensWithinTheHoldTime() throws OutputException {
        line.drive(true);
        now.addAndGet(1000 * MILLI);
        line.drive(false);
        assertFalse(enable.level());
        for (int tick = 0; tick < 10; tick++) {
            now.addAndGet(1000 * MILLI);
            // Off again and again, as the lapse timer does: no change, so no pulse.
            line.drive(false);
        }
        assertFalse(enable.isClosed());
        line.drive(true);
        assertTrue(enable.level());
        assertTrue(enable.isClosed());
    }

    @Test
    void closingLeavesTheLineLow() throws OutputException {
        line.drive(true);
        line.close();
        assertFalse(enable.level());
        assertFalse(isClosedAfter(HOLD_MILLIS));
    }

    @Test
    void aChangeThatFailedIsTriedAgain() throws OutputException {
        FakeOutput fake = new FakeOutput("enable");
        PulsedLine failing = new PulsedLine(fake);
        failing.drive(true);
        fake.fail(true);
        assertThrows(OutputException.class, () -> failing.drive(true));
        assertEquals(true, fake.isEnergised(), "as it was");
        fake.fail(false);
        failing.drive(true);
        assertFalse(fake.isEnergised());
    }
}
