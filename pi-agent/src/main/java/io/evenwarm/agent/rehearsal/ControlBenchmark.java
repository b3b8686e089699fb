package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.agent.plant.CabinetBuild;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.function.Predicate;
import java.util.function.ToDoubleFunction;
import java.util.stream.LongStream;

/**
 * How well control holds the catalogue's cabinets, way by way of controlling them, each cabinet in
 * a {@link ControlTrial}.
 *
 * <p>Some of the catalogue's cabinets no heater can hold: with the heater off, room and fan alone
 * would bring them to the set point at the room's warmest hour. They stay in the count, as held
 * where they happen to be; beside it stands the count without them.
 */
public final class ControlBenchmark {

    /** Control can hold a cabinet only if it has to heat at least so much, K. */
    private static final double LEAST_NEED_KELVIN = 0.1;

    /** Neighbouring seeds of {@link Random} begin alike. */
    private static final long SEED_STEP = 0x9E3779B97F4A7C15L;

    private ControlBenchmark() {}

    /**
     * What is asked of a way of control.
     *
     * @param meanKelvin every 10-minute mean of the settled day within this of the set point
     * @param overshootKelvin at most this above the set point from cold
     * @param operationsADay at most so many; without a limit the largest number
     * @param share in this share of the cabinets, 0 to 1
     */
    public record Bar(double meanKelvin, double overshootKelvin, int operationsADay, double share) {

        boolean meansHeld(ControlTrial.Figures figures) {
            return figures.worstMeanKelvin() <= meanKelvin;
        }

        boolean overshootHeld(ControlTrial.Figures figures) {
            return figures.overshootKelvin() < overshootKelvin;
        }

        boolean operationsHeld(ControlTrial.Figures figures) {
            return figures.operationsADay() <= operationsADay;
        }
    }

    private static final int DAILY_OPERATIONS = 750;
    private static final Bar MECHANICAL = new Bar(0.1, 0.5, DAILY_OPERATIONS, 0.9);
    private static final Bar SOLID_STATE = new Bar(0.1, 0.5, Integer.MAX_VALUE, 0.95);

    private record Trial(CabinetBuild build, ControlTrial.Figures figures) {
        /** Whether the heater is needed at the room's warmest hour. */
        boolean canBeHeld() {
            double alone =
                    build.ambientCelsius()
                            + build.ambientSwingKelvin()
                            + build.fanWatts() / build.heatLossWattsPerKelvin();
            return alone <= ControlTrial.SET_POINT_CELSIUS - LEAST_NEED_KELVIN;
        }
    }

    /**
     * One way of control on all cabinets. Shares are of all cabinets, 0 to 1.
     *
     * @param canBeHeldShare of cabinets that a heater can hold at all
     * @param meansShare whose 10-minute means stayed within the bar
     * @param overshootShare whose overshoot stayed below the bar
     * @param operationsShare whose relay operated no more often than the bar
     * @param allShare for which all three hold at once
     * @param allOfHoldableShare the same among those that can be held
     */
    public record Row(
            String way,
            int cabinets,
            Bar bar,
            double canBeHeldShare,
            double meansShare,
            double overshootShare,
            double operationsShare,
            double allShare,
            double allOfHoldableShare,
            double median10MinuteMeanKelvin,
            double worst95MeanKelvin,
            double medianOvershootKelvin,
            double overshoot95Kelvin,
            double mostOperationsADay,
            double warmestAfterDoorCelsius,
            double medianDoorErrorKelvinHours,
            double medianRoomErrorKelvinHours,
            double medianStepErrorKelvinHours) {

        /** Whether each of the three is held in the share of cabinets that the bar asks for. */
        public boolean isWithinBar() {
            return meansShare >= bar.share()
                    && overshootShare >= bar.share()
                    && operationsShare >= bar.share();
        }
    }

    /**
     * Tries all ways of control.
     *
     * @param runs cabinets; 1 or more
     * @param firstSeed the first cabinet's seed; the next has the next
     */
    public static List<Row> run(int runs, long firstSeed) {
        List<Row> rows = new ArrayList<>();
        rows.add(
                row(
                        "untuned, mechanical relay",
                        runs,
                        firstSeed,
                        ControlPlan.defaults(),
                        MECHANICAL));
        rows.add(
                row(
                        "untuned, solid-state relay",
                        runs,
                        firstSeed,
                        ControlPlan.solidStateDefaults(),
                        SOLID_STATE));
        return List.copyOf(rows);
    }

    private static Row row(String way, int runs, long firstSeed, ControlPlan plan, Bar bar) {
        List<Trial> trials =
                LongStream.range(firstSeed, firstSeed + runs)
                        .parallel()
                        .mapToObj(seed -> trial(plan, seed))
                        .toList();
        Predicate<Trial> means = trial -> bar.meansHeld(trial.figures());
        Predicate<Trial> overshoot = trial -> bar.overshootHeld(trial.figures());
        Predicate<Trial> operations = trial -> bar.operationsHeld(trial.figures());
        Predicate<Trial> all = means.and(overshoot).and(operations);
        List<Trial> holdable = trials.stream().filter(Trial::canBeHeld).toList();
        return new Row(
                way,
                runs,
                bar,
                share(trials, Trial::canBeHeld),
                share(trials, means),
                share(trials, overshoot),
                share(trials, operations),
                share(trials, all),
                share(holdable, all),
                quantile(trials, 0.5, ControlTrial.Figures::worstMeanKelvin),
                quantile(trials, 0.95, ControlTrial.Figures::worstMeanKelvin),
                quantile(trials, 0.5, ControlTrial.Figures::overshootKelvin),
                quantile(trials, 0.95, ControlTrial.Figures::overshootKelvin),
                quantile(trials, 1, ControlTrial.Figures::operationsADay),
                quantile(trials, 1, ControlTrial.Figures::doorPeakCelsius),
                quantile(trials, 0.5, ControlTrial.Figures::doorErrorKelvinHours),
                quantile(trials, 0.5, ControlTrial.Figures::roomErrorKelvinHours),
                quantile(trials, 0.5, ControlTrial.Figures::stepErrorKelvinHours));
    }

    private static Trial trial(ControlPlan plan, long seed) {
        CabinetBuild build = cabinet(seed);
        return new Trial(build, new ControlTrial(build, plan, seed).all());
    }

    /** A cabinet of the catalogue. */
    static CabinetBuild cabinet(long seed) {
        Random random = new Random(seed * SEED_STEP);
        double litres = between(random, 60, 900);
        double wall = between(random, 0.4, 1.4);
        double heater = between(random, 1.5, 5);
        double mean = between(random, 12, 30);
        double swing = Math.min(between(random, 0, 4), Math.min(mean - 12, 30 - mean));
        int tubs = 1 + random.nextInt((int) (litres / 15));
        return CabinetBuild.ofVolume(litres, wall, heater)
                .withTubs(tubs, 1.5)
                .withAmbient(mean, swing)
                .withNoise(between(random, 0, 0.03));
    }

    private static double between(Random random, double least, double most) {
        return least + (most - least) * random.nextDouble();
    }

    private static double share(List<Trial> trials, Predicate<Trial> of) {
        return trials.isEmpty() ? 0 : (double) trials.stream().filter(of).count() / trials.size();
    }

    private static double quantile(
            List<Trial> trials, double share, ToDoubleFunction<ControlTrial.Figures> of) {
        double[] values =
                trials.stream().mapToDouble(trial -> of.applyAsDouble(trial.figures())).toArray();
        Arrays.sort(values);
        int index = (int) Math.ceil(share * values.length) - 1;
        return values[Math.max(0, Math.min(values.length - 1, index))];
    }

    /** The rows as a table for people. */
    public static String table(List<Row> rows) {
        StringBuilder text = new StringBuilder(1000);
        for (Row row : rows) {
            Bar bar = row.bar();
            text.append(
                    String.format(
                            Locale.ROOT,
                            "%s, %d cabinets (%.1f %% of them can be held by heating)%n"
                                    + "  10-minute means within %.2f K %5.1f %%   median %.3f, 95 %%"
                                    + " within %.3f K%n"
                                    + "  overshoot below %.1f K         %5.1f %%   median %.3f, 95 %%"
                                    + " within %.3f K%n",
                            row.way(),
                            row.cabinets(),
                            100 * row.canBeHeldShare(),
                            bar.meanKelvin(),
                            100 * row.meansShare(),
                            row.median10MinuteMeanKelvin(),
                            row.worst95MeanKelvin(),
                            bar.overshootKelvin(),
                            100 * row.overshootShare(),
                            row.medianOvershootKelvin(),
                            row.overshoot95Kelvin()));
            text.append(
                    String.format(
                            Locale.ROOT,
                            "  relay operations a day        %7s   most %.0f%n"
                                    + "  all at once                    %5.1f %%   of those that can"
                                    + " be held %.1f %%; asked: each in %.0f %%: %s%n"
                                    + "  warmest probe after 5 min of open door %.2f °C%n"
                                    + "  median IAE in 3 h: open door %.3f, room 5 K colder %.3f, set"
                                    + " point up 1 K %.3f K h%n",
                            bar.operationsADay() == Integer.MAX_VALUE
                                    ? "any"
                                    : String.format(
                                            Locale.ROOT, "%.1f %%", 100 * row.operationsShare()),
                            row.mostOperationsADay(),
                            100 * row.allShare(),
                            100 * row.allOfHoldableShare(),
                            100 * bar.share(),
                            row.isWithinBar() ? "yes" : "NO",
                            row.warmestAfterDoorCelsius(),
                            row.medianDoorErrorKelvinHours(),
                            row.medianRoomErrorKelvinHours(),
                            row.medianStepErrorKelvinHours()));
        }
        return text.toString();
    }
}
