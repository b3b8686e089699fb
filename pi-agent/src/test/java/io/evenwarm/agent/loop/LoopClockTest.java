package io.evenwarm.agent.loop;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.clock.WallClock;
import java.time.Duration;
import java.time.Instant;
import org.junit.jupiter.api.Test;

final class LoopClockTest {

    private static final long SECOND = 1_000_000_000L;
    private static final Instant NOON = Instant.parse("2026-03-01T12:00:00Z");

    private long nanos = 50 * SECOND;
    private int heldUpReadings;
    private final LoopClock clock =
            LoopClock.real(
                    () -> nanos,
                    new WallClock() {
                        @Override
                        public Instant now() {
                            Instant shown = NOON.plusNanos(nanos);
                            if (heldUpReadings > 0) {
                                heldUpReadings--;
                                nanos += 3 * SECOND;
                            }
                            return shown;
                        }

                        @Override
                        public boolean isTrusted() {
                            return true;
                        }
                    });

    @Test
    void aTickThatWasReadLongAgoGetsTheWallTimeOfThen() {
        long tick = nanos;
        nanos += 20 * SECOND;
        assertEquals(NOON.plusNanos(tick), clock.wallAt(tick));
    }

    @Test
    void aProgramHeldUpBetweenTwoReadingsReadsAgain() {
        long tick = nanos;
        heldUpReadings = 2;
        assertEquals(NOON.plusNanos(tick), clock.wallAt(tick));
    }

    /** Half of what it took is all that the time can be off by then. */
    @Test
    void oneThatIsHeldUpEachTimeGoesOnWithTheMiddle() {
        long tick = nanos;
        heldUpReadings = Integer.MAX_VALUE;
        assertEquals(
                Duration.ofMillis(1500),
                Duration.between(clock.wallAt(tick), NOON.plusNanos(tick)));
    }
}
