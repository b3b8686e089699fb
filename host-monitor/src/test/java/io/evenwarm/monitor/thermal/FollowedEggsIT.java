package io.evenwarm.monitor.thermal;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.Random;
import org.junit.jupiter.api.Test;

/**
 * The band in which the eggs are taken to be, against the plant's own tubs: 14 days, then four with
 * a fit of the first fourteen, in which for some hours the heater gave no heat or the mains were
 * off with the readings going on.
 *
 * <p>{@code -Dthermal.followed=N} takes N cabinets, {@code -Dthermal.seed=S} others.
 */
final class FollowedEggsIT {

    private static final int CABINETS = Integer.getInteger("thermal.followed", 6);
    private static final long SEED = Long.getLong("thermal.seed", 1);
    private static final int DAYS = 14;
    private static final int STEP = 3600;

    /** Every hour: how far the mean is off, and whether both shelves are in the band. */
    private static final class Tally {
        private final List<Double> off = new ArrayList<>();
        private double widths;
        private int inside;
        private int unknown;

        void add(PlantCabinet cabinet, Span eggs) {
            double coldest = cabinet.truth().coldestTubCelsius();
            double warmest = cabinet.truth().warmestTubCelsius();
            off.add(Math.abs(eggs.likely() - (coldest + warmest) / 2));
            widths += eggs.high() - eggs.low();
            inside += eggs.low() <= coldest && warmest <= eggs.high() ? 1 : 0;
        }

        double percent() {
            return 100.0 * inside / off.size();
        }

        void print(String what) {
            Collections.sort(off);
            System.out.printf(
                    Locale.ROOT,
                    "| %s | %d | %d | %.2f K | %.2f K | %.2f K | %.1f %% |%n",
                    what,
                    off.size(),
                    unknown,
                    off.get(off.size() / 2),
                    off.get((int) (0.95 * off.size())),
                    widths / off.size(),
                    percent());
        }
    }

    @Test
    void theBandHoldsTheEggsOfBothShelves() {
        Tally ordinary = new Tally();
        Tally failing = new Tally();
        for (int i = 0; i < CABINETS; i++) {
            one(SEED * 10_000 + i, i, ordinary, failing);
        }
        System.out.println(
                "| eggs | times | not known | mean off, median | 95th percentile | band, mean | both shelves in"
                        + " the band |");
        System.out.println("|---|---|---|---|---|---|---|");
        ordinary.print("ordinary hours");
        failing.print("six hours from a failure on");
        assertTrue(ordinary.percent() >= (CABINETS >= 100 ? 90 : 80), "ordinary");
        assertTrue(failing.percent() >= (CABINETS >= 100 ? 90 : 75), "failing");
    }

    private static void one(long seed, int index, Tally ordinary, Tally failing) {
        Random random = new Random(seed);
        PlantCabinet cabinet = new PlantCabinet(seed, index % 3 == 0);
        cabinet.run(DAYS * PlantCabinet.DAY);
        ThermalFit fit = cabinet.fit(OptionalDouble.empty());
        follow(cabinet, 3 * PlantCabinet.DAY + random.nextInt(PlantCabinet.DAY), fit, ordinary);
        cabinet.stopDoors();
        if (index % 2 == 0) {
            cabinet.breakHeater();
        } else {
            cabinet.cutMains(false);
        }
        follow(cabinet, 6 * 3600, fit, failing);
    }

    private static void follow(PlantCabinet cabinet, int seconds, ThermalFit fit, Tally tally) {
        for (int end = cabinet.nowSeconds() + seconds; cabinet.nowSeconds() < end; ) {
            cabinet.run(STEP);
            EggTrack track = EggTrack.of(fit, cabinet.record().last(2 * 1440));
            int last = track.size() - 1;
            if (track.isKnown(last)) {
                tally.add(cabinet, track.celsius(last));
            } else {
                tally.unknown++;
            }
        }
    }
}
