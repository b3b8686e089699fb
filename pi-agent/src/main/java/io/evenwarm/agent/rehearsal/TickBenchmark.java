package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.CabinetPhysics;
import io.evenwarm.agent.plant.SimulatedCabinet;
import io.evenwarm.agent.port.OutputException;
import io.evenwarm.clock.MonotonicClock;
import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * What a tick costs, side by side with the bare step of the plant that it runs on.
 *
 * <p>Three things are timed in turn, in the caller's thread, several rounds over, and the median
 * round of each counts, so that what else the machine does in between hits all of them alike:
 *
 * <ul>
 *   <li>the bare step: {@link CabinetPhysics#step}, both of its stages, heater switched each
 *       minute;
 *   <li>the simulated cabinet: the same with room, probes, noise, rounding and bus;
 *   <li>the whole tick: bus timing, check, readings, guard, control, gate, snapshot, and the
 *       simulated cabinet's second, as a rehearsal runs it.
 * </ul>
 */
public final class TickBenchmark {

    /** A whole tick may cost at most this, ns. */
    public static final double TICK_NANOS_MAX = 1200;

    /** A whole tick may cost at most so many bare steps. */
    public static final double BARE_STEPS_MAX = 40;

    private static final int WARM_UP_ROUNDS = 5;
    private static final int ROUNDS = 15;
    private static final int BARE_STEPS = 1_000_000;
    private static final int CABINET_STEPS = 500_000;
    private static final int TICKS = 200_000;
    private static final double FULL_SHARE = 1;
    private static final long SECOND = 1_000_000_000L;

    /**
     * Medians of the rounds, ns.
     *
     * @param probes probes of the cabinet
     * @param bareStepNanos one bare step
     * @param cabinetStepNanos one step of the simulated cabinet
     * @param tickNanos one whole tick
     */
    public record Figures(
            int probes, double bareStepNanos, double cabinetStepNanos, double tickNanos) {

        /** How many bare steps a whole tick costs. */
        public double bareStepsPerTick() {
            return tickNanos / bareStepNanos;
        }

        /** Whether both bars are met. */
        public boolean isWithinBars() {
            return tickNanos <= TICK_NANOS_MAX && bareStepsPerTick() <= BARE_STEPS_MAX;
        }
    }

    private final MonotonicClock clock;
    private final CabinetPhysics bare;
    private final SimulatedCabinet cabinet;
    private final VirtualRun run;
    private final CabinetBuild build;
    private final int probes;
    private final int bareSteps;
    private final int cabinetSteps;
    private final int ticks;
    private long cabinetNanos;

    private TickBenchmark(MonotonicClock clock, List<String> positions, double share)
            throws OutputException {
        this.clock = clock;
        this.bareSteps = (int) (BARE_STEPS * share);
        this.cabinetSteps = (int) (CABINET_STEPS * share);
        this.ticks = (int) (TICKS * share);
        this.build = CabinetBuild.ofVolume(250, 1.0, 3).withStart(31.5);
        Scenario.Cabinet described =
                new Scenario.Cabinet(
                        build, 31.5, 33.5, 34.5, true, positions, Scenario.Start.SETTLED);
        this.probes = positions.size();
        this.bare = new CabinetPhysics(build);
        this.cabinet = new SimulatedCabinet(build, ScenarioPlan.of(described), 1);
        // As the loop of the whole tick drives it, but for the heater.
        cabinet.outputs().fan().orElseThrow().drive(true);
        cabinet.step(0);
        this.run = new VirtualRun(build, ScenarioPlan.of(described), 1, List.of());
    }

    /**
     * Measures cabinets of three and of four probes and prints what it found.
     *
     * @param clock real time
     * @param out gets a few lines of text
     * @return one entry a cabinet
     */
    public static List<Figures> run(MonotonicClock clock, Appendable out) throws IOException {
        return run(clock, out, FULL_SHARE);
    }

    /**
     * @param share of the usual numbers of steps in each round; a test has no time for all
     */
    static List<Figures> run(MonotonicClock clock, Appendable out, double share)
            throws IOException {
        List<String> three = List.of("top", "middle", "bottom");
        List<String> four = List.of("top", "middle", "bottom", "tub");
        List<Figures> figures =
                List.of(
                        new TickBenchmark(clock, three, share).measure(),
                        new TickBenchmark(clock, four, share).measure());
        for (Figures of : figures) {
            out.append(
                    String.format(
                            Locale.ROOT,
                            "%d probes: bare plant step %.1f ns, simulated cabinet %.1f ns,"
                                    + " whole tick %.0f ns = %.1f bare steps (at most %.0f ns and"
                                    + " %.0f)%n",
                            of.probes(),
                            of.bareStepNanos(),
                            of.cabinetStepNanos(),
                            of.tickNanos(),
                            of.bareStepsPerTick(),
                            TICK_NANOS_MAX,
                            BARE_STEPS_MAX));
        }
        return figures;
    }

    private Figures measure() {
        double[] bareNanos = new double[ROUNDS];
        double[] cabinetStepNanos = new double[ROUNDS];
        double[] tickNanos = new double[ROUNDS];
        for (int round = -WARM_UP_ROUNDS; round < ROUNDS; round++) {
            double bareStep = time(this::stepBare) / bareSteps;
            double cabinetStep = time(this::stepCabinet) / cabinetSteps;
            double tick = time(this::tick) / ticks;
            if (round >= 0) {
                bareNanos[round] = bareStep;
                cabinetStepNanos[round] = cabinetStep;
                tickNanos[round] = tick;
            }
        }
        return new Figures(probes, median(bareNanos), median(cabinetStepNanos), median(tickNanos));
    }

    private double time(Runnable work) {
        long from = clock.nanos();
        work.run();
        return (double) (clock.nanos() - from);
    }

    private void stepBare() {
        for (int i = 0; i < bareSteps; i++) {
            double watts = i % 60 < 15 ? build.heaterWatts() : 0;
            bare.step(watts, build.fanWatts(), 1, false, 22);
        }
    }

    private void stepCabinet() {
        for (int i = 0; i < cabinetSteps; i++) {
            cabinetNanos += SECOND;
            cabinet.step(cabinetNanos);
        }
    }

    private void tick() {
        for (int i = 0; i < ticks; i++) {
            run.second();
        }
    }

    private static double median(double[] values) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        return sorted[sorted.length / 2];
    }
}
