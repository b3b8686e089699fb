package io.evenwarm.monitor.evenness;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;

/**
 * A survey in which probes are moved. The cabinet is invented: middle and bottom have a probe each
 * that stays, a third one stands for some hours at each of three other places. Each move opens the
 * door, and the cabinet as a whole drifts meanwhile.
 */
final class MovedProbesTest {

    private static final String[] PLACES = {"top left", "top right", "shelf 1"};
    private static final double[] MEANS = {31.9, 31.6, 31.4};
    private static final double MIDDLE = 31.5;
    private static final double BOTTOM = 31.3;
    private static final double HOURS_EACH = 4;

    private static final Wording WORDING = InventedCabinet.WORDING;

    private static Instant at(double minute) {
        return InventedCabinet.at(minute);
    }

    private static TimeSpan hours(double from, double to) {
        return new TimeSpan(at(60 * from), at(60 * to));
    }

    private static Stand stand(String probe, String position, double fromHour, double toHour) {
        return Stand.of(probe, position, hours(fromHour, toHour));
    }

    private static List<Stand> threePlaces() {
        List<Stand> stands = new ArrayList<>();
        for (int i = 0; i < PLACES.length; i++) {
            stands.add(stand("extra", PLACES[i], i * HOURS_EACH, (i + 1) * HOURS_EACH));
        }
        return stands;
    }

    private static CabinetCurves curves() {
        return new Cabinet(0, 0, 1).curves();
    }

    /** Middle and bottom stay, extra is carried round. */
    private static final class Cabinet {

        private final double driftKelvin;
        private final double errorKelvin;
        private final Random random;

        /**
         * @param driftKelvin by how much the cabinet as a whole goes up from begin to end
         * @param errorKelvin that the moved probe reads too much
         */
        Cabinet(double driftKelvin, double errorKelvin, long seed) {
            this.driftKelvin = driftKelvin;
            this.errorKelvin = errorKelvin;
            random = new Random(seed);
        }

        private CabinetCurves curves() {
            return curves("middle", "bottom", "extra");
        }

        /** One reading a minute of 12 h. */
        private CabinetCurves curves(String... names) {
            int minutes = (int) (60 * HOURS_EACH * PLACES.length);
            long[] times = new long[minutes];
            double[][] values = new double[names.length][minutes];
            double[] own = new double[names.length];
            double common = 0;
            double stay = Math.exp(-1.0 / 30);
            double stayOwn = Math.exp(-1.0 / 10);
            for (int t = 0; t < minutes; t++) {
                times[t] = at(t).toEpochMilli();
                common = stay * common + 0.05 * Math.sqrt(1 - stay * stay) * random.nextGaussian();
                double sinceMove = t % (60 * HOURS_EACH);
                double shared = common + driftKelvin * t / minutes;
                shared -= t < 60 * HOURS_EACH ? 0 : 3 * Math.exp(-sinceMove / 12);
                int place = (int) (t / (60 * HOURS_EACH));
                for (int i = 0; i < names.length; i++) {
                    own[i] =
                            stayOwn * own[i]
                                    + 0.04
                                            * Math.sqrt(1 - stayOwn * stayOwn)
                                            * random.nextGaussian();
                    double mean =
                            switch (names[i]) {
                                case "middle" -> MIDDLE;
                                case "bottom" -> BOTTOM;
                                default -> MEANS[place] + errorKelvin;
                            };
                    double read = mean + shared + own[i] + 0.02 * random.nextGaussian();
                    values[i][t] = Math.rint(read * 16) / 16;
                }
            }
            List<ProbeCurve> probes = new ArrayList<>();
            for (int i = 0; i < names.length; i++) {
                probes.add(
                        new ProbeCurve(
                                new ProbeName(names[i]),
                                ProbePlace.of(names[i]),
                                ProbeCurve.Unit.CELSIUS,
                                Curve.of(times, values[i], minutes)));
            }
            double[] wanted = new double[minutes];
            Arrays.fill(wanted, MIDDLE);
            return new CabinetCurves(
                    InventedCabinet.KEY,
                    new TimeSpan(at(0), at(minutes)),
                    probes,
                    Curve.of(times, wanted, minutes),
                    Curve.empty(),
                    Optional.empty());
        }
    }

    private static SurveyQuestion question(List<Stand> stands) {
        SurveyQuestion usual =
                SurveyQuestion.usual(
                        ProbeRecord.EMPTY, SurveyLoad.Known.NOTHING, Stands.NONE, WORDING);
        return new SurveyQuestion(
                Set.of(),
                OptionalDouble.of(0.0625),
                OptionalDouble.of(0.05),
                usual.offsets(),
                usual.record(),
                OptionalDouble.empty(),
                0.7,
                OptionalDouble.empty(),
                usual.load(),
                new Stands(stands),
                WORDING);
    }

    private static SurveyResult survey(CabinetCurves curves, List<Stand> stands) {
        return EvennessReport.of(question(stands), curves, Optional.empty(), Optional.empty())
                .survey();
    }

    private static SurveyResult.Surveyed surveyed(SurveyResult result) {
        return result.fold(
                surveyed -> surveyed,
                withheld -> {
                    throw new AssertionError("withheld: " + withheld.reasons());
                });
    }

    private static PointFigures at(SurveyResult.Surveyed survey, String position) {
        return survey.temperature().points().stream()
                .filter(point -> point.position().label().equals(position))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void aProbeThatIsCarriedRoundGivesEachPlaceItsFigures() {
        SurveyResult.Surveyed survey = surveyed(survey(curves(), threePlaces()));
        assertEquals(5, survey.temperature().points().size());
        for (int i = 0; i < PLACES.length; i++) {
            Estimate mean = at(survey, PLACES[i]).mean();
            assertEquals(MEANS[i], mean.value(), mean.expanded(), PLACES[i]);
            assertTrue(mean.expanded() < 0.15, mean.toString());
        }
        Estimate gradient = survey.temperature().gradient();
        assertEquals(MEANS[0] - BOTTOM, gradient.value(), gradient.expanded());
        Bridging bridging = survey.bridging().orElseThrow();
        assertEquals("middle", bridging.reference());
        assertEquals(3, bridging.points().size());
        for (Bridging.Place place : bridging.points()) {
            assertTrue(place.added() > 0.005 && place.added() < 0.1, place.toString());
            assertEquals(1, place.settled().size());
        }
    }

    @Test
    void whatComesBeforeAndAfterAMoveIsLeftOutAndSaid() {
        SurveyResult.Surveyed survey = surveyed(survey(curves(), threePlaces()));
        List<Bridging.Place> places = survey.bridging().orElseThrow().points();
        Bridging.Place first =
                places.stream()
                        .filter(p -> p.position().equals(PLACES[0]))
                        .findFirst()
                        .orElseThrow();
        assertEquals(at(230), first.settled().get(0).to());
        Bridging.Place second =
                places.stream()
                        .filter(p -> p.position().equals(PLACES[1]))
                        .findFirst()
                        .orElseThrow();
        long since =
                (second.settled().get(0).from().toEpochMilli() - at(240).toEpochMilli()) / 60_000;
        // 3 K · e^(−t/12 min) is 0.35 K after 26 min.
        assertTrue(since >= 15 && since <= 45, since + " min");
        String words = survey.settledWords();
        assertTrue(words.startsWith("Probes were moved. Settled 2030-03-01 00:00 to 2030"), words);
        assertTrue(words.contains("(extra (top left)); 2030"), words);
        assertTrue(words.contains("Left out: the last 10 min before each move"), words);
        assertTrue(words.contains("by its difference to middle"), words);
    }

    /** 0.6 K in 12 h: without the reference each place would be another 0.2 K up. */
    @Test
    void aSlowDriftOfTheWholeCabinetIsNoVariationInSpace() {
        SurveyResult.Surveyed survey =
                surveyed(survey(new Cabinet(0.6, 0, 3).curves(), threePlaces()));
        for (int i = 0; i < PLACES.length; i++) {
            Estimate variation = at(survey, PLACES[i]).variationInSpace().orElseThrow();
            assertEquals(MEANS[i] - MIDDLE, variation.value(), variation.expanded(), PLACES[i]);
            assertEquals(MEANS[i] - MIDDLE, variation.value(), 0.06, PLACES[i]);
        }
    }

    /** The truth is how far a place is from the middle. */
    @Test
    void theStatedUncertaintyHoldsTheTruthInNinetyFivePercent() {
        int held = 0;
        int all = 0;
        for (int seed = 0; seed < 200; seed++) {
            CabinetCurves curves = new Cabinet(seed % 3 * 0.2, 0, 100 + seed).curves();
            SurveyResult.Surveyed survey = surveyed(survey(curves, threePlaces()));
            for (Bridging.Place place : survey.bridging().orElseThrow().points()) {
                int i = Arrays.asList(PLACES).indexOf(place.position());
                double found =
                        at(survey, PLACES[i]).mean().value() - at(survey, "middle").mean().value();
                held += Math.abs(found - (MEANS[i] - MIDDLE)) <= place.added() ? 1 : 0;
                all++;
            }
        }
        System.out.println(
                "moved probes: places within what was added in "
                        + 100.0 * held / all
                        + " % of "
                        + all);
        assertEquals(0.95, held / (double) all, 0.03);
    }

    @Test
    void theErrorOfAProbeDropsOutBetweenItsOwnPlaces() {
        SurveyResult.Surveyed survey =
                surveyed(survey(new Cabinet(0, 0.4, 5).curves(), threePlaces()));
        EvennessFigures figures = survey.temperature();
        int warmest = figures.warmest();
        assertEquals(PLACES[0], figures.points().get(warmest).position().label());
        int other =
                figures.points().stream()
                        .map(p -> p.position().label())
                        .toList()
                        .indexOf(PLACES[2]);
        FigureSeries series = figures.series();
        double own = Math.hypot(series.ownUncertainty(warmest), series.ownUncertainty(other));
        assertEquals(own, series.differenceUncertainty(warmest, other), 1e-12);
        assertTrue(
                series.differenceUncertainty(warmest, figures.coldest())
                        > Math.sqrt(2) * ProbeQuality.rectangular(0.05));
    }

    @Test
    void aProbeMayComeBackToAPlaceAndBeOutOfTheCabinet() {
        List<Stand> stands =
                List.of(
                        stand("extra", "top left", 0, 2),
                        stand("extra", "out", 2, 3),
                        stand("extra", "top left", 3, 4),
                        stand("extra", "top right", 4, 8),
                        stand("extra", "shelf 1", 8, 12));
        SurveyResult.Surveyed survey = surveyed(survey(curves(), stands));
        Bridging.Place first =
                survey.bridging().orElseThrow().points().stream()
                        .filter(place -> place.position().equals("top left"))
                        .findFirst()
                        .orElseThrow();
        assertEquals(2, first.settled().size());
    }

    @Test
    void aPlaceThatWasLeftTooSoonIsNamed() {
        List<Stand> stands = new ArrayList<>(threePlaces());
        stands.set(1, stand("extra", "top right", 4, 4.7));
        stands.add(2, stand("extra", "out", 4.7, 8));
        List<Reason> reasons =
                survey(curves(), stands).fold(s -> List.of(), SurveyResult.Withheld::reasons);
        assertEquals(1, reasons.size(), reasons.toString());
        assertTrue(
                reasons.get(0)
                        .words()
                        .startsWith(
                                "From 2030-03-01 04:00 to 2030-03-01 04:42, between two moves (extra"
                                        + " (top right)): "),
                reasons.get(0).words());
    }

    @Test
    void withoutASecondProbeThatStaysItIsLessCertain() {
        SurveyResult.Surveyed with =
                surveyed(survey(new Cabinet(0.6, 0, 7).curves(), threePlaces()));
        SurveyResult.Surveyed without =
                surveyed(survey(new Cabinet(0.6, 0, 7).curves("middle", "extra"), threePlaces()));
        assertTrue(
                without.bridging().orElseThrow().points().get(0).added()
                        > with.bridging().orElseThrow().points().get(0).added());
    }

    private void refused(String words, Stand... stands) {
        String message =
                String.valueOf(
                        assertThrows(
                                        IllegalArgumentException.class,
                                        () -> survey(curves(), List.of(stands)))
                                .getMessage());
        assertTrue(message.contains(words), message);
    }

    @Test
    void contradictionsAreNamed() {
        refused(
                "extra can't stand at two positions at once, but from 2030-03-01 05:00 to"
                        + " 2030-03-01 06:00 it is said to be at \"top left\" and at \"shelf 1\"",
                stand("extra", "top left", 0, 6),
                stand("extra", "shelf 1", 5, 12));
        refused(
                "nothing says where extra stood from 2030-03-01 06:00 to 2030-03-01 07:00",
                stand("extra", "top left", 0, 6),
                stand("extra", "shelf 1", 7, 12));
        refused(
                "nothing says where extra stood from 2030-03-01 10:00",
                stand("extra", "top left", 0, 10));
        refused("bottom, extra, middle, but named spare", stand("spare", "top left", 0, 12));
        refused(
                "position \"middle\" must be of one probe alone but is said of middle and of extra",
                stand("extra", "middle", 0, 12));
        refused(
                "position \"top left\" must be of one probe alone but is said of bottom and of"
                        + " extra",
                stand("bottom", "top left", 0, 12),
                stand("extra", "top left", 0, 12));
        refused(
                "one probe in the cabinet's air at least must stay in its place",
                stand("bottom", "shelf 2", 0, 12),
                stand("middle", "shelf 3", 0, 12),
                stand("extra", "top left", 0, 12));
        assertThrows(IllegalArgumentException.class, () -> stand("extra", "ambient", 0, 1));
        assertThrows(IllegalArgumentException.class, () -> stand("extra", "top left", 1, 1));
    }

    @Test
    void staysOfOtherSpansDontCount() {
        List<Stand> stands = new ArrayList<>(threePlaces());
        stands.add(stand("spare", "top left", 100, 120));
        assertEquals(5, surveyed(survey(curves(), stands)).temperature().points().size());
    }

    @Test
    void aSecondSurveyOfTheSamePlacesIsCompared() {
        EvennessReport report =
                EvennessReport.of(
                        question(threePlaces()),
                        curves(),
                        Optional.empty(),
                        Optional.of(new Cabinet(0.3, 0, 11).curves()));
        ComparisonResult.Compared compared =
                report.against()
                        .orElseThrow()
                        .comparison()
                        .orElseThrow()
                        .fold(
                                c -> c,
                                withheld -> {
                                    throw new AssertionError(withheld.reasons().toString());
                                });
        assertEquals(FigureChange.Answer.NOT_DISTINGUISHABLE, compared.answer());
    }
}
