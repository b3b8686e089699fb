package io.evenwarm.monitor.thermal;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Random;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Power cuts of 10 min to 18 h after 14 ordinary days, the agent dark, no tub's probe, the room up
 * to 4 K warmer or colder meanwhile: the coldest eggs as they were on the plant, and as the review
 * has them, with and without the readings after the cut. {@code -Dthermal.outages=500} for all.
 */
@Tag("long")
final class ReconstructedOutagesIT {

    private static final int OUTAGES = Integer.getInteger("thermal.outages", 24);
    private static final long SEED = Long.getLong("thermal.seed", 50_001);
    private static final int ORDINARY_DAYS = 14;
    private static final int LEAST_SECONDS = 600;
    private static final int MOST_SECONDS = 18 * 3600;
    private static final int AFTER_MINUTES = 360;
    private static final double ROOM_KELVIN = 4;

    /** Few may be unlucky ones; the bounds are those of many. */
    private static final boolean IS_MANY = OUTAGES >= 200;

    private static final class Tally {
        private final List<Double> off = new ArrayList<>();
        private double covered;

        void add(EggCurve curve, List<Double> truth) {
            double coldest = truth.stream().mapToDouble(Double::doubleValue).min().orElseThrow();
            off.add(Math.abs(curve.celsius(curve.coldest()) - coldest));
            int minutes = Math.min(curve.size(), truth.size());
            int held = 0;
            for (int i = 0; i < minutes; i++) {
                double by = Math.abs(curve.celsius(i) - truth.get(i));
                held += by <= curve.plusMinus(i) ? 1 : 0;
            }
            covered += (double) held / minutes;
        }

        double percentile(double share) {
            List<Double> sorted = off.stream().sorted().toList();
            return sorted.get((int) Math.min(sorted.size() - 1, share * sorted.size()));
        }

        double coveredPercent() {
            return 100 * covered / off.size();
        }

        void print(String what) {
            System.out.printf(
                    Locale.ROOT,
                    "| %s | %d | %.2f K | %.2f K | %.2f K | %.1f %% |%n",
                    what,
                    off.size(),
                    percentile(0.5),
                    percentile(0.95),
                    percentile(0.999999),
                    coveredPercent());
        }
    }

    @Test
    void theColdestEggsAreFoundFromBothEdgesOfTheGap() {
        Tally with = new Tally();
        Tally without = new Tally();
        Map<Reconstruction.After, Integer> doubted = new EnumMap<>(Reconstruction.After.class);
        for (int i = 0; i < OUTAGES; i++) {
            Random random = new Random(SEED + i);
            PlantCabinet cabinet = new PlantCabinet(SEED + i, false);
            cabinet.run(ORDINARY_DAYS * PlantCabinet.DAY + random.nextInt(PlantCabinet.DAY));
            ThermalFit fit = cabinet.fit(OptionalDouble.empty());
            long lastMillis = cabinet.nowMillis() - 1;
            cabinet.moveRoom(ROOM_KELVIN * (2 * random.nextDouble() - 1));
            cabinet.cutMains(true);
            List<Double> truth = new ArrayList<>();
            int seconds = LEAST_SECONDS + random.nextInt(MOST_SECONDS - LEAST_SECONDS);
            live(cabinet, seconds / 60, truth);
            cabinet.run(seconds % 60);
            cabinet.moveRoom(0);
            cabinet.returnMains();
            long firstMillis = cabinet.nowMillis() + 1;
            live(cabinet, AFTER_MINUTES, truth);
            Gap gap = new Gap(lastMillis, firstMillis, ROOM_KELVIN);
            ThermalRecord record = cabinet.record();
            Reconstruction made = GapReview.of(fit, record, gap, true);
            doubted.merge(made.after(), 1, Integer::sum);
            with.add(made.coldest(), truth);
            without.add(GapReview.of(fit, record, gap, false).coldest(), truth);
        }
        System.out.println("| coldest eggs | outages | off, median | 95 % | worst | band holds |");
        System.out.println("|---|---|---|---|---|---|");
        System.out.println("after it " + doubted);
        with.print("from both edges");
        without.print("without the readings after it");
        int fitting =
                doubted.getOrDefault(Reconstruction.After.AS_WITHOUT_HEAT, 0)
                        + doubted.getOrDefault(Reconstruction.After.RATHER_WARM, 0);
        assertTrue(fitting >= 0.9 * OUTAGES, "cuts without heat are doubted: " + doubted);
        assertTrue(with.percentile(0.5) <= (IS_MANY ? 0.25 : 0.4), "median");
        assertTrue(with.percentile(0.95) <= (IS_MANY ? 0.9 : 1.5), "95 %");
        assertTrue(with.percentile(0.5) < without.percentile(0.5), "the edge tells nothing");
        assertTrue(with.coveredPercent() >= (IS_MANY ? 90 : 80), "band");
        assertTrue(!IS_MANY || with.coveredPercent() <= 98, "the band is too wide");
    }

    private static void live(PlantCabinet cabinet, int minutes, List<Double> truth) {
        for (int minute = 0; minute < minutes; minute++) {
            cabinet.run(60);
            truth.add(cabinet.truth().coldestTubCelsius());
        }
    }
}
