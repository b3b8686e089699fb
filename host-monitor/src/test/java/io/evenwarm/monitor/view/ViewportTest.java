package io.evenwarm.monitor.view;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

final class ViewportTest {

    private static final Instant NOW = Samples.NOON;

    @Test
    void followingEndsNowWhateverTimeItIs() {
        Viewport port = Viewport.following(SpanChoice.SIX_HOURS);
        assertEquals(
                new TimeSpan(NOW.minus(Duration.ofHours(6)), NOW), port.at(NOW, Optional.empty()));
        Instant later = NOW.plusSeconds(77);
        assertEquals(later, port.at(later, Optional.empty()).to());
    }

    @Test
    void theWholeTermBeginsWithTheFirstReading() {
        Viewport port = Viewport.following(SpanChoice.TERM);
        Instant first = NOW.minus(Duration.ofDays(58));
        assertEquals(new TimeSpan(first, NOW), port.at(NOW, Optional.of(first)));
        assertEquals(
                Viewport.SHORTEST,
                port.at(NOW, Optional.of(NOW.minusSeconds(2))).length(),
                "a term that has just begun");
    }

    @Test
    void zoomingKeepsTheMomentUnderThePointer() {
        TimeSpan seen = new TimeSpan(NOW.minus(Duration.ofHours(10)), NOW.minusSeconds(7200));
        TimeSpan zoomed =
                Viewport.following(SpanChoice.DAY)
                        .zoomed(seen, 0.25, 0.5, NOW)
                        .at(NOW, Optional.empty());
        assertEquals(Duration.ofHours(4), zoomed.length());
        assertEquals(
                seen.from().plus(Duration.ofHours(2)), zoomed.from().plus(Duration.ofHours(1)));
    }

    @Test
    void aDragOfNothingStillShowsAMinute() {
        Instant at = NOW.minusSeconds(3600);
        TimeSpan span =
                Viewport.following(SpanChoice.DAY).between(at, at, NOW).at(NOW, Optional.empty());
        assertEquals(Viewport.SHORTEST, span.length());
        assertTrue(span.from().isBefore(at) && span.to().isAfter(at));
    }

    @Test
    void backToNowRemembersTheSpanThatWasChosen() {
        Viewport port =
                Viewport.following(SpanChoice.WEEK)
                        .between(NOW.minusSeconds(900), NOW.minusSeconds(500), NOW);
        assertFalse(port.isFollowing());
        assertEquals(Viewport.following(SpanChoice.WEEK), port.backToNow());
    }

    @Test
    void noSequenceOfMovesLeavesTheSensible() {
        for (long seed = 1; seed <= 100; seed++) {
            SplittableRandom random = new SplittableRandom(seed);
            Viewport port = Viewport.following(SpanChoice.HOUR);
            Instant now = NOW;
            for (int step = 0; step < 60; step++) {
                now = now.plusSeconds(random.nextInt(100));
                TimeSpan seen = port.at(now, Optional.empty());
                port =
                        switch (random.nextInt(3)) {
                            case 0 ->
                                    port.zoomed(
                                            seen,
                                            random.nextDouble(),
                                            0.1 + 3 * random.nextDouble(),
                                            now);
                            case 1 -> port.moved(seen, 2 * random.nextDouble() - 1, now);
                            default ->
                                    port.between(
                                            seen.from().plusSeconds(random.nextInt(1000)),
                                            seen.to(),
                                            now);
                        };
                TimeSpan span = port.at(now, Optional.empty());
                String where = "seed " + seed + " step " + step + " " + span;
                assertFalse(span.to().isAfter(now), where);
                assertTrue(span.length().compareTo(Viewport.SHORTEST) >= 0, where);
                assertTrue(span.length().compareTo(Viewport.LONGEST) <= 0, where);
            }
        }
    }
}
