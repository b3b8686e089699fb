package io.evenwarm.monitor.thermal;

import static org.junit.jupiter.api.Assertions.assertEquals;
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
 * Constants that are known, of cabinets and loads on the plant, and what the fit makes of 14
 * ordinary days of readings. A quarter of the cabinets each has a tub's probe, a lower set point at
 * night, one cut of 2 to 8 h (half of them with a dark agent), or none of these. {@code
 * -Dthermal.cabinets=500} for all.
 */
@Tag("long")
final class RecoveredConstantsIT {

    private static final int CABINETS = Integer.getInteger("thermal.cabinets", 32);
    private static final long SEED = Long.getLong("thermal.seed", 1);
    private static final int DAYS = 14;
    private static final int HOUR = 3600;

    /** Few cabinets may be unlucky ones; the bounds are those of many. */
    private static final boolean IS_MANY = CABINETS >= 200;

    private enum Kind {
        TUB_PROBE,
        NIGHTLY_DROP,
        CUT,
        PLAIN
    }

    /** How far a figure was off, and whether its interval held the truth. */
    private static final class Tally {
        private final List<Double> off = new ArrayList<>();
        private int held;

        void add(Figure.Known figure, double truth) {
            off.add(Math.abs(figure.value() / truth - 1));
            held += figure.holds(truth) ? 1 : 0;
        }

        double percentile(double share) {
            List<Double> sorted = off.stream().sorted().toList();
            return 100 * sorted.get((int) Math.min(sorted.size() - 1, share * sorted.size()));
        }

        double heldPercent() {
            return 100.0 * held / off.size();
        }

        void print(String what) {
            System.out.printf(
                    Locale.ROOT,
                    "| %s | %d | %.1f %% | %.1f %% | %.1f %% | %.1f %% |%n",
                    what,
                    off.size(),
                    percentile(0.5),
                    percentile(0.9),
                    percentile(0.999999),
                    heldPercent());
        }
    }

    private static PlantCabinet lived(long seed, Kind kind) {
        PlantCabinet cabinet = new PlantCabinet(seed, kind == Kind.TUB_PROBE);
        Random random = new Random(seed);
        if (kind == Kind.NIGHTLY_DROP) {
            cabinet.dropAtNight(2 + 2 * random.nextDouble());
        }
        if (kind == Kind.CUT) {
            cabinet.run((6 + random.nextInt(4)) * PlantCabinet.DAY + random.nextInt(24) * HOUR);
            cabinet.cutMains(random.nextBoolean());
            cabinet.run(2 * HOUR + random.nextInt(6 * HOUR));
            cabinet.returnMains();
        }
        cabinet.run(DAYS * PlantCabinet.DAY - cabinet.nowSeconds());
        return cabinet;
    }

    @Test
    void knownConstantsAreFoundWithinTheirIntervals() {
        Map<Kind, Tally> ratios = new EnumMap<>(Kind.class);
        Tally allRatios = new Tally();
        Tally losses = new Tally();
        Tally tubbed = new Tally();
        Tally untubbed = new Tally();
        int unclaimed = 0;
        int excited = 0;
        for (int i = 0; i < CABINETS; i++) {
            Kind kind = Kind.values()[i % Kind.values().length];
            PlantCabinet cabinet = lived(SEED + i, kind);
            ThermalFit fit = cabinet.fit(OptionalDouble.of(cabinet.measuredWatts()));
            double ratio = cabinet.lossWattsPerKelvin() / cabinet.meanWatts();
            tally(ratios, kind).add(known(fit.lossPerPower()), ratio);
            allRatios.add(known(fit.lossPerPower()), ratio);
            losses.add(known(fit.lossWattsPerKelvin()), cabinet.lossWattsPerKelvin());
            excited += kind == Kind.PLAIN ? 0 : 1;
            if (fit.eggTimeConstantSeconds() instanceof Figure.Known eggs) {
                assertTrue(kind != Kind.PLAIN, "seed " + (SEED + i) + ": nothing told it");
                (kind == Kind.TUB_PROBE ? tubbed : untubbed)
                        .add(eggs, cabinet.eggTimeConstantSeconds());
            } else {
                unclaimed++;
            }
        }
        System.out.println("| figure | cabinets | off, median | 90 % | worst | interval holds |");
        System.out.println("|---|---|---|---|---|---|");
        for (Kind kind : Kind.values()) {
            tally(ratios, kind).print("loss over power, " + kind);
        }
        allRatios.print("loss over power, all");
        losses.print("W/K with measured watts");
        tubbed.print("egg time constant, tub's probe");
        untubbed.print("egg time constant, drop or cut");
        System.out.printf(
                Locale.ROOT,
                "no egg time constant claimed: %d, of them %d without drop, cut or probe%n",
                unclaimed,
                CABINETS - excited);
        assertEquals(excited, tubbed.off.size() + untubbed.off.size(), 0.2 * excited);
        assertTrue(allRatios.percentile(0.9) <= 5, "loss over power");
        assertTrue(losses.percentile(0.9) <= 10, "W/K");
        assertTrue(tubbed.percentile(0.9) <= 15, "egg time constant with a probe");
        assertTrue(untubbed.percentile(0.9) <= 40, "egg time constant without one");
        for (Tally tally : List.of(allRatios, losses, tubbed, untubbed)) {
            assertTrue(tally.heldPercent() >= (IS_MANY ? 90 : 80), "coverage");
            assertTrue(!IS_MANY || tally.heldPercent() <= 98, "intervals are too wide");
        }
    }

    private static Tally tally(Map<Kind, Tally> of, Kind kind) {
        return of.computeIfAbsent(kind, any -> new Tally());
    }

    private static Figure.Known known(Figure figure) {
        return figure.fold(
                known -> known,
                notKnown -> {
                    throw new AssertionError(notKnown.reason());
                });
    }
}
