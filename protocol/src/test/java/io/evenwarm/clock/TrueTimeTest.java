package io.evenwarm.clock;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.TrueTime.Outcome;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.Test;

final class TrueTimeTest {

    private static final long SECOND = 1_000_000_000L;
    private static final Instant NOON = Instant.parse("2026-03-01T12:00:00Z");

    private long nanos = 50 * SECOND;
    private Instant systemZero = NOON.minus(Duration.ofHours(9));
    private boolean isSystemSet;
    private final WallClock system =
            new WallClock() {
                @Override
                public Instant now() {
                    return systemZero.plusNanos(nanos);
                }

                @Override
                public boolean isTrusted() {
                    return isSystemSet;
                }
            };
    private final TrueTime time = new TrueTime(() -> nanos, system);

    private Outcome tell(String by, Instant wall, Optional<Instant> earliest) {
        return time.tell(by, wall, nanos, earliest);
    }

    @Test
    void untilSomebodyVouchesTheSystemsTimeIsTakenAndNotTrusted() {
        assertFalse(time.isTrusted());
        assertEquals(systemZero.plusNanos(nanos), time.now());
    }

    @Test
    void aClockThatIsTakenAsSetGoesAsBefore() {
        TrueTime invented = new TrueTime(() -> nanos, system.takenAsSet());
        assertTrue(invented.isTrusted());
        assertEquals(systemZero.plusNanos(nanos), invented.now());
    }

    @Test
    void onceTheSystemsClockIsSetItIsTrustedForGood() {
        systemZero = NOON;
        isSystemSet = true;
        time.look();
        assertTrue(time.isTrusted());
        isSystemSet = false;
        time.look();
        assertTrue(time.isTrusted());
        assertEquals(NOON.plusNanos(nanos), time.now());
    }

    @Test
    void aToldTimeIsTakenAndRunsOn() {
        assertEquals(Outcome.TAKEN, tell("desk", NOON, Optional.empty()));
        assertTrue(time.isTrusted());
        assertEquals(NOON, time.now());
        nanos += 7200 * SECOND;
        assertEquals(NOON.plusSeconds(7200), time.now());
        assertEquals("told by monitor desk", time.words());
    }

    @Test
    void halfOfTheWayThereAndBackIsAdded() {
        long asked = nanos;
        nanos += 2 * SECOND;
        assertEquals(Outcome.TAKEN, time.tell("desk", NOON, asked, Optional.empty()));
        assertEquals(NOON.plusSeconds(1), time.now());
    }

    @Test
    void anAnswerThatWasLongOnItsWayOrComesBeforeTheQuestionIsNotBelieved() {
        long asked = nanos;
        nanos += 5 * SECOND;
        assertEquals(Outcome.TOO_SLOW, time.tell("desk", NOON, asked, Optional.empty()));
        assertEquals(Outcome.TOO_SLOW, time.tell("desk", NOON, nanos + SECOND, Optional.empty()));
        assertFalse(time.isTrusted());
    }

    @Test
    void noTimeIsTakenThatWouldPutThisRunBeforeWhatIsJournalled() {
        nanos += 600 * SECOND;
        Instant journalled = NOON.minusSeconds(500);
        assertEquals(Outcome.REFUSED, tell("desk", NOON, Optional.of(journalled)));
        assertFalse(time.isTrusted());
    }

    @Test
    void aClockThatIsAFewSecondsSlowIsRaisedToWhatIsJournalled() {
        nanos += 600 * SECOND;
        Instant journalled = NOON.minusSeconds(590);
        assertEquals(Outcome.TAKEN, tell("desk", NOON, Optional.of(journalled)));
        assertEquals(
                journalled.plusSeconds(600), time.now(), "the run began where the records end");
    }

    @Test
    void aSystemClockThatIsSetLaterTakesThePlaceOfAToldTime() {
        tell("desk", NOON, Optional.empty());
        systemZero = NOON.plusSeconds(3).minusNanos(nanos);
        isSystemSet = true;
        time.look();
        assertEquals(NOON.plusSeconds(3), time.now());
        assertEquals(Outcome.NOT_NEEDED, tell("desk", NOON, Optional.empty()));
    }

    @Test
    void onlyTheMonitorThatToldTheTimeMayLeadItAndNeverByAJump() {
        tell("desk", NOON, Optional.empty());
        assertEquals(Outcome.NOT_NEEDED, tell("laptop", NOON.plusSeconds(9), Optional.empty()));
        nanos += 60 * SECOND;
        assertEquals(Outcome.TAKEN, tell("desk", NOON.plusSeconds(57), Optional.empty()));
        assertEquals(NOON.plusSeconds(60), time.now());
        Instant last = time.now();
        for (int second = 0; second < 400; second++) {
            nanos += SECOND;
            assertTrue(time.now().isAfter(last), "it never goes back");
            last = time.now();
        }
        assertEquals(NOON.plusSeconds(457), time.now());
        assertEquals(Outcome.REFUSED, tell("desk", NOON.plusSeconds(3600), Optional.empty()));
    }
}
