package io.evenwarm.monitor.history;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;

/** What a summed-up stretch looks like as a curve. Times are in minutes of one-minute stretches. */
final class SummaryCurvesTest {

    private static final long MINUTE = 60_000;
    private static final long LATE = Long.MAX_VALUE - 1;

    private final Summaries.Builder builder = new Summaries.Builder(MINUTE);

    private void stretch(int minute, double least, double greatest, long count, long bad) {
        builder.add(minute * MINUTE, least, greatest, (least + greatest) / 2, count, bad);
    }

    /** {@code minute=value}, "-" for a gap. */
    private static String text(Curve curve) {
        List<String> points = new ArrayList<>();
        for (int i = 0; i < curve.size(); i++) {
            points.add(
                    String.format(
                            Locale.ROOT,
                            "%.2f=%s",
                            curve.epochMillis(i) / (double) MINUTE,
                            Double.isNaN(curve.value(i)) ? "-" : curve.value(i)));
        }
        return String.join(" ", points);
    }

    @Test
    void bothExtremesOfEveryStretchAreOnTheLineTheNearerOneFirst() {
        stretch(0, 31, 31, 12, 0);
        stretch(1, 30, 31.5, 12, 0);
        stretch(2, 29, 30, 12, 0);
        assertEquals(
                "0.50=31.0 1.25=31.5 1.75=30.0 2.25=30.0 2.75=29.0",
                text(SummaryCurves.line(builder.build(), LATE)));
    }

    @Test
    void aStretchThatIsMissingBreaksALineOfManyReadingsAStretch() {
        stretch(0, 31, 31, 12, 0);
        stretch(1, 31, 31, 12, 0);
        stretch(3, 31, 31, 12, 0);
        stretch(4, 31, 31, 12, 0);
        assertEquals(
                "0.50=31.0 1.50=31.0 2.00=- 3.50=31.0 4.50=31.0",
                text(SummaryCurves.line(builder.build(), LATE)));
    }

    @Test
    void aStretchThatIsMissingIsNoHoleWhereReadingsAreRareAnyway() {
        stretch(0, 31, 31, 1, 0);
        stretch(2, 31, 31, 1, 0);
        stretch(4, 31, 31, 1, 0);
        stretch(8, 31, 31, 1, 0);
        stretch(13, 31, 31, 1, 0);
        assertEquals(
                "0.50=31.0 2.50=31.0 4.50=31.0 8.50=31.0 9.00=- 13.50=31.0",
                text(SummaryCurves.line(builder.build(), LATE)));
    }

    @Test
    void aStretchOfWhichHalfIsBadOrMissingEndsInAGap() {
        stretch(0, 31, 31, 12, 0);
        stretch(1, 31, 31, 6, 6);
        stretch(2, 31, 31, 11, 1);
        stretch(3, 31, 31, 5, 0);
        stretch(4, 31, 31, 12, 0);
        stretch(5, 0, 0, 0, 12);
        stretch(6, 31, 31, 2, 0);
        assertEquals(
                "0.50=31.0 1.50=31.0 2.00=- 2.50=31.0 3.50=31.0 4.00=- 4.50=31.0 5.50=- 6.50=31.0",
                text(SummaryCurves.line(builder.build(), LATE)));
    }

    @Test
    void nothingIsDrawnAfterTheNewestReading() {
        stretch(0, 31, 31, 12, 0);
        stretch(1, 30, 31, 3, 0);
        Summaries summaries = builder.build();
        long newest = MINUTE + 20_000;
        assertEquals("0.50=31.0 1.08=31.0 1.25=30.0", text(SummaryCurves.line(summaries, newest)));
        assertEquals(
                "0.00=30.5 1.00=30.0 1.17=31.0 1.33=31.0",
                text(SummaryCurves.steps(builderOf(30.5, summaries), newest)));
        assertEquals(
                "0.00=31.0 1.00=31.0 1.33=30.5", text(SummaryCurves.shares(summaries, newest)));
    }

    private static Summaries builderOf(double first, Summaries rest) {
        Summaries.Builder changed = new Summaries.Builder(MINUTE);
        changed.add(0, first, first, first, 12, 0);
        changed.add(MINUTE, rest.least(1), 31.5 - 0.5, 30.5, 3, 0);
        return changed.build();
    }

    @Test
    void wideStretchesOfNarrowOnesKeepExtremesMeansAndCounts() {
        stretch(0, 30, 32, 10, 2);
        stretch(1, 31, 35, 30, 0);
        stretch(2, 0, 0, 0, 4);
        stretch(5, 20, 20, 1, 0);
        Summaries wide = builder.build().combined(3);
        assertEquals(2, wide.size());
        assertEquals(3 * MINUTE, wide.stepMillis());
        assertEquals(0, wide.beginMillis(0));
        assertEquals(30, wide.least(0));
        assertEquals(35, wide.greatest(0));
        assertEquals((10 * 31.0 + 30 * 33.0) / 40, wide.mean(0));
        assertEquals(40, wide.count(0));
        assertEquals(6, wide.badCount(0));
        assertEquals(3 * MINUTE, wide.beginMillis(1));
    }
}
