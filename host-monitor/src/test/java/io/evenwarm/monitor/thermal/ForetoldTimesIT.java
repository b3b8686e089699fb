package io.evenwarm.monitor.thermal;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * The time left as it is foretold at the moment of a failure, and how long it then took on the
 * plant: after 14 days with a tub's probe, a nightly drop, or neither, and loads of every size. The
 * room goes on with its days and weather. {@code -Dthermal.failures=200} for so many of each kind.
 */
@Tag("long")
final class ForetoldTimesIT {

    private static final int OF_EACH = Integer.getInteger("thermal.failures", 12);
    private static final long SEED = Long.getLong("thermal.seed", 60_001);
    private static final int HISTORIES = 3;
    private static final double FROM = 0.2;
    private static final double TO = 0.6;

    /** Few may be unlucky ones; the bounds are those of many. */
    private static final boolean IS_MANY = OF_EACH >= 100;

    private enum Failure {
        MAINS_OFF,
        HEATER_DEAD,
        HEATER_STUCK_ON
    }

    private static final class Tally {
        private final List<Double> off = new ArrayList<>();

        void add(double foretold, double truth) {
            off.add(foretold / truth - 1);
        }

        double medianPercent() {
            List<Double> sorted = off.stream().map(Math::abs).sorted().toList();
            return 100 * sorted.get(sorted.size() / 2);
        }

        double earlyPercent() {
            return 100.0 * off.stream().filter(by -> by <= 0).count() / off.size();
        }

        double tooEarlyPercent() {
            return 100.0 * off.stream().filter(by -> by < -0.4).count() / off.size();
        }

        void print(String what) {
            System.out.printf(
                    Locale.ROOT,
                    "| %s | %d | %.1f %% | %.1f %% | %.1f %% | %.0f to %+.0f %% |%n",
                    what,
                    off.size(),
                    medianPercent(),
                    earlyPercent(),
                    tooEarlyPercent(),
                    100 * off.stream().mapToDouble(Double::doubleValue).min().orElseThrow(),
                    100 * off.stream().mapToDouble(Double::doubleValue).max().orElseThrow());
        }
    }

    private static Scenario scenario(Failure failure) {
        return switch (failure) {
            case MAINS_OFF -> Scenario.mainsOff();
            case HEATER_DEAD -> running(Scenario.Heating.OFF);
            case HEATER_STUCK_ON -> running(Scenario.Heating.STUCK_ON);
        };
    }

    private static Scenario running(Scenario.Heating heating) {
        return new Scenario(heating, true, OptionalDouble.empty(), 0, OptionalDouble.empty());
    }

    private static void fail(PlantCabinet cabinet, Failure failure) {
        switch (failure) {
            case MAINS_OFF -> cabinet.cutMains(false);
            case HEATER_DEAD -> cabinet.breakHeater();
            case HEATER_STUCK_ON -> cabinet.weldHeater();
        }
    }

    @Test
    void theEggsHaveAtLeastTheTimeThatIsForetoldInNineOfTen() {
        Map<Failure, Tally> tallies = new EnumMap<>(Failure.class);
        Tally all = new Tally();
        for (Failure failure : Failure.values()) {
            Tally tally = new Tally();
            tallies.put(failure, tally);
            for (int i = 0; i < OF_EACH; i++) {
                // As many runs for each kind: other seeds for other kinds.
                one(failure, SEED + 1000L * (1 + List.of(Failure.values()).indexOf(failure)) + i, i)
                        .ifPresent(
                                pair -> {
                                    tally.add(pair.foretold, pair.truth);
                                    all.add(pair.foretold, pair.truth);
                                });
            }
        }
        System.out.println("| failure | runs | off, median | earlier | by over 40 % | range |");
        System.out.println("|---|---|---|---|---|---|");
        tallies.forEach((failure, tally) -> tally.print(failure.toString()));
        all.print("all");
        assertTrue(all.medianPercent() <= (IS_MANY ? 15 : 20), "median");
        assertTrue(all.earlyPercent() >= (IS_MANY ? 90 : 75), "later than foretold");
        assertTrue(all.tooEarlyPercent() <= (IS_MANY ? 5 : 10), "much too early");
    }

    private record Pair(double foretold, double truth) {}

    private static Optional<Pair> one(Failure failure, long seed, int index) {
        Random random = new Random(seed);
        PlantCabinet cabinet = new PlantCabinet(seed, index % HISTORIES == 0);
        if (index % HISTORIES == 1) {
            cabinet.dropAtNight(2 + 2 * random.nextDouble());
        }
        // By day: at night the set point may be on its way.
        cabinet.run(14 * PlantCabinet.DAY + 9 * 3600 + random.nextInt(11 * 3600));
        cabinet.stopDoors();
        ThermalFit fit = cabinet.fit(OptionalDouble.empty());
        Outlook outlook = new Outlook(fit, cabinet.record().last(2 * 1440));
        Outlook.Course course = outlook.of(scenario(failure));
        boolean isWarm = failure == Failure.HEATER_STUCK_ON;
        double eggs = eggs(cabinet, isWarm);
        double share = FROM + (TO - FROM) * random.nextDouble();
        double limit =
                isWarm
                        ? eggs + 5 * share
                        : eggs - share * (eggs - cabinet.truth().ambientCelsius());
        Span foretold =
                isWarm ? course.secondsUntilWarmAt(limit) : course.secondsUntilColdAt(limit);
        fail(cabinet, failure);
        int minutes = 0;
        while (minutes < Outlook.HOURS * 60 && isWarm == eggs(cabinet, isWarm) < limit) {
            cabinet.run(60);
            minutes++;
        }
        // A room that got warm meanwhile may keep them from it.
        return minutes == Outlook.HOURS * 60 || Double.isInfinite(foretold.low())
                ? Optional.empty()
                : Optional.of(new Pair(foretold.low(), 60.0 * minutes));
    }

    private static double eggs(PlantCabinet cabinet, boolean isWarm) {
        return isWarm ? cabinet.truth().warmestTubCelsius() : cabinet.truth().coldestTubCelsius();
    }
}
