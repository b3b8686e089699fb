package io.evenwarm.monitor.evenness;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.history.Curve;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

final class ComparisonTest {

    /** {@code -Devenness.pairs=2000} is the whole claim; its share each time. */
    private static final int PAIRS = Integer.getInteger("evenness.pairs", 60);

    private static final double[] EVEN = {31.6, 31.5, 31.5, 31.4, 31.45, 31.55, 31.5, 31.5, 31.45};

    private static SurveyResult.Surveyed surveyed(SurveyResult result) {
        return result.fold(
                surveyed -> surveyed,
                withheld -> {
                    throw new AssertionError("withheld: " + withheld.reasons());
                });
    }

    private static ComparisonResult.Compared compared(
            InventedCabinet before, InventedCabinet after) {
        return Comparison.of(
                        surveyed(before.survey()),
                        surveyed(after.survey()),
                        InventedCabinet.WORDING)
                .fold(
                        compared -> compared,
                        withheld -> {
                            throw new AssertionError("withheld: " + withheld.reasons());
                        });
    }

    private static double[] withWarmestRaised(double[] means, double kelvin) {
        double[] raised = means.clone();
        int warmest = 0;
        for (int i = 0; i < raised.length; i++) {
            warmest = raised[i] > raised[warmest] ? i : warmest;
        }
        raised[warmest] += kelvin;
        return raised;
    }

    private static FigureChange gradient(ComparisonResult.Compared compared) {
        FigureChange change = compared.changes().get(0);
        assertEquals(FigureChange.Figure.GRADIENT, change.figure());
        return change;
    }

    @Test
    void theIntervalHoldsTheTrueChangeAndNoChangeIsCalledNone() {
        double[] truths = {0, 0.1, 0.2, 0.5, 1.0};
        int coveredOfAll = 0;
        for (double truth : truths) {
            int covered = 0;
            int found = 0;
            int none = 0;
            for (int pair = 0; pair < PAIRS; pair++) {
                double[] means = InventedCabinet.nineMeans(pair);
                FigureChange change =
                        gradient(
                                compared(
                                        new InventedCabinet(2L * pair, means).withLimit(2),
                                        new InventedCabinet(
                                                        2L * pair + 1,
                                                        withWarmestRaised(means, truth))
                                                .withLimit(2)));
                covered +=
                        change.change().low() <= truth && truth <= change.change().high() ? 1 : 0;
                found += change.answer() == FigureChange.Answer.WORSE ? 1 : 0;
                none += change.answer() == FigureChange.Answer.NOT_DISTINGUISHABLE ? 1 : 0;
            }
            System.out.printf(
                    Locale.ROOT,
                    "%d pairs, true change %.1f K: in the 95 %% interval %.2f %%, found %.2f %%,"
                            + " not distinguishable %.2f %%%n",
                    PAIRS,
                    truth,
                    100.0 * covered / PAIRS,
                    100.0 * found / PAIRS,
                    100.0 * none / PAIRS);
            coveredOfAll += covered;
            // What chance leaves of the claim with as many pairs, four standard deviations.
            double chance = 4 * Math.sqrt(0.05 * 0.95 / PAIRS);
            assertTrue(covered >= PAIRS * (0.95 - 0.02 - chance), truth + ": covered " + covered);
            if (truth == 0) {
                assertTrue(none >= PAIRS * (0.95 - 0.02 - chance), "no change: " + none);
            }
            if (truth >= 0.2) {
                assertTrue(found >= 0.9 * PAIRS, truth + ": found " + found);
            }
        }
        double share = coveredOfAll / (double) (truths.length * PAIRS);
        double chance = 3 * Math.sqrt(0.05 * 0.95 / (truths.length * PAIRS));
        assertEquals(0.95, share, 0.02 + chance);
    }

    @Test
    void aBetterFanIsCalledBetterInOneSentence() {
        double[] uneven = EVEN.clone();
        uneven[0] = 32.2;
        ComparisonResult.Compared compared =
                compared(new InventedCabinet(1, uneven), new InventedCabinet(2, EVEN));
        assertEquals(FigureChange.Answer.BETTER, compared.answer());
        assertTrue(
                compared.sentence().startsWith("Better: the gradient is 0."), compared.sentence());
        assertTrue(compared.sentence().contains("Keep what was changed."), compared.sentence());
        assertEquals(-0.6, gradient(compared).change().value(), 0.1);
    }

    @Test
    void everyFigureIsCompared() {
        ComparisonResult.Compared compared =
                compared(new InventedCabinet(3, EVEN), new InventedCabinet(4, EVEN));
        assertEquals(
                List.of(FigureChange.Figure.values()),
                compared.changes().stream().map(FigureChange::figure).toList());
    }

    /**
     * The first point is warmer by 0.1 K for each kelvin that the inside is above the room: 5 K
     * colder a room makes half a kelvin that no fan made.
     */
    @Test
    void aColderRoomIsNotTakenForAWorseFan() {
        int wrong = 0;
        for (int seed = 0; seed < 20; seed++) {
            ComparisonResult.Compared compared =
                    compared(
                            new InventedCabinet(2L * seed, EVEN)
                                    .hours(48)
                                    .withLimit(3)
                                    .inRoom(21, 0.1),
                            new InventedCabinet(2L * seed + 1, EVEN)
                                    .hours(48)
                                    .withLimit(3)
                                    .inRoom(16, 0.1));
            FigureChange change = gradient(compared);
            assertEquals(
                    -0.5, change.correction().orElseThrow().amount(), 0.25, compared.sentence());
            assertTrue(change.correction().orElseThrow().isMeasured());
            wrong += compared.answer() == FigureChange.Answer.NOT_DISTINGUISHABLE ? 0 : 1;
        }
        assertTrue(wrong <= 3, wrong + " of 20 were called changed");
    }

    /** The first points read humidity too: 80 %RH at the set point, 10 %RH a kelvin. */
    private static SurveyResult.Surveyed damp(InventedCabinet cabinet, int hygrometers) {
        SurveyInput input = cabinet.input();
        List<SurveyPoint> damp = new ArrayList<>();
        for (SurveyPoint point : input.temperatures().subList(0, hygrometers)) {
            Curve curve = point.curve();
            long[] times = new long[curve.size()];
            double[] values = new double[curve.size()];
            for (int t = 0; t < times.length; t++) {
                times[t] = curve.epochMillis(t);
                values[t] = 80 + 10 * (curve.value(t) - InventedCabinet.SET_POINT);
            }
            damp.add(
                    new SurveyPoint(
                            point.probe(),
                            point.position(),
                            new ProbeQuality(0.1, 3, 0, OptionalDouble.empty(), 0),
                            Curve.of(times, values, times.length)));
        }
        return surveyed(
                Survey.of(
                        new SurveyInput(
                                input.span(),
                                input.temperatures(),
                                damp,
                                input.setPointCelsius(),
                                input.heaterOnFraction(),
                                input.ambientCelsius(),
                                2,
                                OptionalDouble.empty(),
                                Optional.empty(),
                                input.wording())));
    }

    private static ComparisonResult.Compared compared(
            SurveyResult.Surveyed before, SurveyResult.Surveyed after) {
        return Comparison.of(before, after, InventedCabinet.WORDING)
                .fold(
                        compared -> compared,
                        withheld -> {
                            throw new AssertionError("withheld: " + withheld.reasons());
                        });
    }

    private static List<FigureChange> ofHumidity(ComparisonResult.Compared compared) {
        return compared.changes().stream()
                .filter(change -> change.measure() == Measure.HUMIDITY)
                .toList();
    }

    @Test
    void humidityIsComparedWhereBothSurveysHaveIt() {
        double[] damper = EVEN.clone();
        damper[0] += 0.3;
        int held = 0;
        for (int pair = 0; pair < 60; pair++) {
            ComparisonResult.Compared compared =
                    compared(
                            damp(new InventedCabinet(2L * pair, EVEN), 4),
                            damp(new InventedCabinet(2L * pair + 1, damper), 4));
            List<FigureChange> changes = ofHumidity(compared);
            assertEquals(
                    List.of(FigureChange.Figure.values()),
                    changes.stream().map(FigureChange::figure).toList());
            Estimate gradient = changes.get(0).change();
            held += gradient.low() <= 3 && 3 <= gradient.high() ? 1 : 0;
            assertEquals(FigureChange.Answer.WORSE, changes.get(0).answer());
            assertEquals(Optional.empty(), compared.whyNoHumidity());
        }
        assertTrue(held >= 52, held + " of 60 hold the truth");
        EvennessWords.Line line =
                new EvennessWords(InventedCabinet.WORDING)
                        .line(
                                ofHumidity(
                                                compared(
                                                        damp(new InventedCabinet(0, EVEN), 4),
                                                        damp(new InventedCabinet(1, damper), 4)))
                                        .get(0));
        assertEquals("Change of humidity gradient", line.name());
        assertTrue(
                line.words().matches("[12]\\.\\d+ %RH before, .* change \\+.*: worse"),
                line.words());
    }

    @Test
    void humidityThatCanNotBeComparedIsNamed() {
        SurveyResult.Surveyed without = surveyed(new InventedCabinet(1, EVEN).survey());
        SurveyResult.Surveyed three = damp(new InventedCabinet(2, EVEN), 3);
        SurveyResult.Surveyed two = damp(new InventedCabinet(3, EVEN), 2);
        assertEquals(Optional.empty(), compared(without, without).whyNoHumidity());
        ComparisonResult.Compared before = compared(three, without);
        assertEquals(
                "Humidity is not compared: it was measured at two places or more before only.",
                before.whyNoHumidity().orElseThrow());
        assertEquals(List.of(), ofHumidity(before));
        assertTrue(compared(three, two).whyNoHumidity().orElseThrow().contains("other places"));
    }

    @Test
    void otherPointsAreNotCompared() {
        ComparisonResult result =
                Comparison.of(
                        surveyed(new InventedCabinet(5, EVEN).survey()),
                        surveyed(new InventedCabinet(6, 31.5, 31.6, 31.4).survey()),
                        InventedCabinet.WORDING);
        List<Reason> reasons =
                result.fold(compared -> List.of(), ComparisonResult.Withheld::reasons);
        assertEquals(Reason.Kind.POINTS_DIFFER, reasons.get(0).kind());
        assertTrue(reasons.get(0).words().contains("shelf 1, shelf 2"), reasons.toString());
    }

    @Test
    void aSpanOfTooFewIndependentReadingsIsNotCompared() {
        ComparisonResult result =
                Comparison.of(
                        surveyed(new InventedCabinet(7, EVEN).hours(0.6).survey()),
                        surveyed(new InventedCabinet(8, EVEN).survey()),
                        InventedCabinet.WORDING);
        List<Reason> reasons =
                result.fold(compared -> List.of(), ComparisonResult.Withheld::reasons);
        assertEquals(Reason.Kind.TOO_SHORT, reasons.get(0).kind(), reasons.toString());
    }

    /** Errors of other probes than before don't cancel. */
    @Test
    void aProbeThatWasExchangedMakesTheChangeLessCertain() {
        SurveyResult.Surveyed before = surveyed(new InventedCabinet(9, EVEN).survey());
        InventedCabinet cabinet = new InventedCabinet(10, EVEN);
        List<SurveyPoint> exchanged =
                cabinet.points().stream()
                        .map(
                                point ->
                                        new SurveyPoint(
                                                "new " + point.probe(),
                                                point.position(),
                                                point.quality(),
                                                point.curve()))
                        .toList();
        SurveyResult.Surveyed after = surveyed(Survey.of(cabinet.input(exchanged)));
        double same =
                gradient(compared(new InventedCabinet(9, EVEN), new InventedCabinet(10, EVEN)))
                        .change()
                        .standardUncertainty();
        double other =
                Comparison.of(before, after, InventedCabinet.WORDING)
                        .fold(
                                compared -> gradient(compared).change().standardUncertainty(),
                                withheld -> Double.NaN);
        // Four probes' 0.025 K.
        assertEquals(Math.sqrt(4) * 0.025, Math.sqrt(other * other - same * same), 1e-3);
    }
}
