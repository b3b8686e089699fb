package io.evenwarm.monitor.evenness;

import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import java.util.Locale;
import java.util.function.Supplier;
import org.junit.jupiter.api.Test;

/** How long a survey and a comparison take; the limits stand in docs/evidence.md. */
final class EvennessSpeedTest {

    private static <T> T timed(String what, double secondsMax, Supplier<T> work) {
        MonotonicClock clock = SystemClock.monotonic();
        long begin = clock.nanos();
        T result = work.get();
        double seconds = (clock.nanos() - begin) / 1e9;
        System.out.printf(Locale.ROOT, "%s: %.3f s%n", what, seconds);
        assertTrue(seconds < secondsMax, what + " took " + seconds + " s");
        return result;
    }

    @Test
    void twentySevenPointsForTwoDaysAtOneReadingASecond() {
        double[] means = new double[27];
        for (int i = 0; i < means.length; i++) {
            means[i] = 31.3 + 0.4 * i / 26;
        }
        SurveyInput input =
                new InventedCabinet(1, means).each(1).hours(48).warmingUpFrom(6).input();
        SurveyInput later = new InventedCabinet(2, means).hours(48).input();
        SurveyResult before =
                timed("survey of 27 points, 4,665,600 readings", 2, () -> Survey.of(input));
        SurveyResult after = Survey.of(later);
        assertTrue(
                before instanceof SurveyResult.Surveyed && after instanceof SurveyResult.Surveyed);
        ComparisonResult compared =
                timed(
                        "comparison of two such surveys",
                        3,
                        () ->
                                before.fold(
                                        one ->
                                                after.fold(
                                                        other ->
                                                                Comparison.of(
                                                                        one,
                                                                        other,
                                                                        InventedCabinet.WORDING),
                                                        no ->
                                                                new ComparisonResult.Withheld(
                                                                        no.reasons())),
                                        no -> new ComparisonResult.Withheld(no.reasons())));
        assertTrue(compared instanceof ComparisonResult.Compared, compared.toString());
    }
}
