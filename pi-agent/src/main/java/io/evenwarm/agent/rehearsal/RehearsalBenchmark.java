package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plant.CabinetPhysics;
import io.evenwarm.clock.MonotonicClock;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * How fast rehearsals run on one core, beside the bare step of the plant that they run on: whole
 * runs of the catalogue, one a kind of fault, with guard, control, gate, findings and verdict.
 *
 * <p>Both are timed in turn, in the caller's thread, several rounds over; the median round of each
 * counts.
 */
public final class RehearsalBenchmark {

    /** Cabinet-years a minute that a rehearsal must reach on one core. */
    public static final double YEARS_A_MINUTE_LEAST = 2;

    private static final int ROUNDS = 5;
    private static final int BARE_STEPS = 2_000_000;
    private static final double SECONDS_A_YEAR = 365.25 * 86_400;
    private static final double NANOS_A_MINUTE = 60e9;

    /**
     * What was measured.
     *
     * @param tickNanos one simulated second of a rehearsal
     * @param bareStepNanos one bare step of the plant
     * @param simulatedSeconds of a round
     */
    public record Figures(double tickNanos, double bareStepNanos, long simulatedSeconds) {

        /** How many years of one cabinet a minute on one core simulates. */
        public double yearsAMinute() {
            return NANOS_A_MINUTE / tickNanos / SECONDS_A_YEAR;
        }

        /** How many bare steps a simulated second costs. */
        public double bareSteps() {
            return tickNanos / bareStepNanos;
        }

        /** Whether it is fast enough. */
        public boolean isWithinBar() {
            return yearsAMinute() >= YEARS_A_MINUTE_LEAST;
        }

        /** In words. */
        public String text() {
            return String.format(
                    Locale.ROOT,
                    "rehearsal: %.2f cabinet-years a minute on one core at a 1 s tick (at least"
                            + " %.0f): %.0f ns a simulated second = %.1f bare plant steps of %.1f ns;"
                            + " %d kinds of fault, %.1f days a round%n",
                    yearsAMinute(),
                    YEARS_A_MINUTE_LEAST,
                    tickNanos,
                    bareSteps(),
                    bareStepNanos,
                    kinds().size(),
                    simulatedSeconds / 86_400.0);
        }
    }

    private RehearsalBenchmark() {}

    /** The kinds whose runs are short: the other two are the same ticks for 28 days. */
    private static List<FaultKind> kinds() {
        return Arrays.stream(FaultKind.values())
                .filter(kind -> kind != FaultKind.HEATER_WEAK && kind != FaultKind.PROBE_DRIFT)
                .toList();
    }

    /**
     * Measures; takes some seconds.
     *
     * @param clock real time
     */
    public static Figures run(MonotonicClock clock) {
        return run(clock, ROUNDS, BARE_STEPS, kinds());
    }

    static Figures run(MonotonicClock clock, int rounds, int bareSteps, List<FaultKind> kinds) {
        double[] ticks = new double[rounds];
        double[] steps = new double[rounds];
        long simulated = 0;
        for (int round = -1; round < rounds; round++) {
            double step = bareStep(clock, bareSteps);
            long from = clock.nanos();
            long seconds = 0;
            for (FaultKind kind : kinds) {
                Scenario scenario = Catalogue.scenario(kind, 1 + seconds % 97);
                Rehearsal.run(scenario);
                seconds +=
                        RunningScenario.SETTLING_SECONDS
                                + (long) Math.ceil(scenario.durationSeconds());
            }
            double tick = (double) (clock.nanos() - from) / seconds;
            if (round >= 0) {
                steps[round] = step;
                ticks[round] = tick;
                simulated = seconds;
            }
        }
        Arrays.sort(ticks);
        Arrays.sort(steps);
        return new Figures(ticks[rounds / 2], steps[rounds / 2], simulated);
    }

    private static double bareStep(MonotonicClock clock, int steps) {
        Scenario.Cabinet cabinet = Catalogue.cabinet(1);
        CabinetPhysics bare = new CabinetPhysics(cabinet.startingBuild());
        double heaterWatts = cabinet.build().heaterWatts();
        double fanWatts = cabinet.build().fanWatts();
        long from = clock.nanos();
        for (int i = 0; i < steps; i++) {
            bare.step(i % 60 < 15 ? heaterWatts : 0, fanWatts, 1, false, 22);
        }
        return (double) (clock.nanos() - from) / steps;
    }
}
