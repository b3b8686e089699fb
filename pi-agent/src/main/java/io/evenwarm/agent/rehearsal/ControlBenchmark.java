package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.agent.plant.CabinetBuild;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;
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
    private static final Bar TUNED_MECHANICAL = new Bar(0.05, 0.2, DAILY_OPERATIONS, 0.95);
    private static final Bar TUNED_SOLID_STATE = new Bar(0.05, 0.2, Integer.MAX_VALUE, 0.95);

    private record Way(String words, ControlPlan plan, boolean isTuned, Bar bar) {}

    private record Trial(CabinetBuild build, boolean isTuned, ControlTrial.Figures figures) {
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
     * How much smaller the integral of the absolute error was than untuned, at the median of the
     * cabinets that can be held; 0.3 is 30 % smaller.
     */
    public record Gain(double afterDoor, double afterRoom, double afterStep, double together) {}

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
            double medianStepErrorKelvinHours,
            double tunedShare,
            Optional<Gain> gain) {

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
        for (ControlPlan plan : List.of(ControlPlan.defaults(), ControlPlan.solidStateDefaults())) {
            boolean isMechanical = plan.relay() == ControlPlan.Relay.MECHANICAL;
            String relay = isMechanical ? "mechanical relay" : "solid-state relay";
            List<Trial> untuned =
                    trials(
                            new Way(
                                    "untuned, " + relay,
                                    plan,
                                    false,
                                    isMechanical ? MECHANICAL : SOLID_STATE),
                            runs,
                            firstSeed,
                            rows,
                            List.of());
            trials(
                    new Way(
                            "tuned by a step test, " + relay,
                            plan,
                            true,
                            isMechanical ? TUNED_MECHANICAL : TUNED_SOLID_STATE),
                    runs,
                    firstSeed,
                    rows,
                    untuned);
        }
        return List.copyOf(rows);
    }

    private static List<Trial> trials(
            Way way, int runs, long firstSeed, List<Row> rows, List<Trial> untuned) {
        List<Trial> trials =
                LongStream.range(firstSeed, firstSeed + runs)
                        .parallel()
                        .mapToObj(seed -> trial(way, seed))
                        .toList();
        rows.add(row(way, trials, untuned));
        return trials;
    }

    private static Row row(Way way, List<Trial> trials, List<Trial> untuned) {
        Bar bar = way.bar();
        Predicate<Trial> means = trial -> bar.meansHeld(trial.figures());
        Predicate<Trial> overshoot = trial -> bar.overshootHeld(trial.figures());
        Predicate<Trial> operations = trial -> bar.operationsHeld(trial.figures());
        Predicate<Trial> all = means.and(overshoot).and(operations);
        List<Trial> holdable = trials.stream().filter(Trial::canBeHeld).toList();
        return new Row(
                way.words(),
                trials.size(),
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
                quantile(trials, 0.5, ControlTrial.Figures::stepErrorKelvinHours),
                share(trials, Trial::isTuned),
                untuned.isEmpty() ? Optional.empty() : Optional.of(gain(trials, untuned)));
    }

    private static Gain gain(List<Trial> trials, List<Trial> untuned) {
        return new Gain(
                gain(trials, untuned, ControlTrial.Figures::doorErrorKelvinHours),
                gain(trials, untuned, ControlTrial.Figures::roomErrorKelvinHours),
                gain(trials, untuned, ControlTrial.Figures::stepErrorKelvinHours),
                gain(
                        trials,
                        untuned,
                        figures ->
                                figures.doorErrorKelvinHours()
                                        + figures.roomErrorKelvinHours()
                                        + figures.stepErrorKelvinHours()));
    }

    private static double gain(
            List<Trial> trials, List<Trial> untuned, ToDoubleFunction<ControlTrial.Figures> of) {
        double[] gains =
                IntStream.range(0, trials.size())
                        .filter(i -> trials.get(i).canBeHeld())
                        .mapToDouble(
                                i ->
                                        1
                                                - of.applyAsDouble(trials.get(i).figures())
                                                        / of.applyAsDouble(
                                                                untuned.get(i).figures()))
                        .sorted()
                        .toArray();
        return gains.length == 0 ? 0 : gains[gains.length / 2];
    }

    private static Trial trial(Way way, long seed) {
        Scenario.Cabinet cabinet = Catalogue.cabinet(seed);
        Optional<ControlPlan> tuned =
                way.isTuned() ? ControlTrial.tuned(cabinet, way.plan(), seed) : Optional.empty();
        ControlTrial trial = new ControlTrial(cabinet, tuned.orElse(way.plan()), seed);
        return new Trial(cabinet.build(), tuned.isPresent(), trial.all());
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
                                    + "  median IAE of 2 min means in 3 h: open door %.3f, room 5 K colder %.3f, set"
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
            row.gain()
                    .ifPresent(
                            gain ->
                                    text.append(
                                            String.format(
                                                    Locale.ROOT,
                                                    "  the test came to an end in %.1f %%; IAE smaller"
                                                            + " than untuned by %.0f %% (door), %.0f %%"
                                                            + " (room), %.0f %% (set point), %.0f %%"
                                                            + " together, at the median%n",
                                                    100 * row.tunedShare(),
                                                    100 * gain.afterDoor(),
                                                    100 * gain.afterRoom(),
                                                    100 * gain.afterStep(),
                                                    100 * gain.together())));
        }
        return text.toString();
    }
}
