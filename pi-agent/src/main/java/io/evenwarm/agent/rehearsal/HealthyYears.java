package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plant.CabinetBuild;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.BooleanSupplier;

/**
 * Sound cabinets of the catalogue over a term each, with two short looks inside a day, a reloading
 * a week, weather of several days and an agent that is restarted now and then: what is found there
 * is false, or a door that was open for too long.
 */
public final class HealthyYears {

    /** A term of two months and some: five of them are a year. */
    private static final double TERM_DAYS = 73;

    /** So many terms are a cabinet-year. */
    public static final int TERMS_A_YEAR = 5;

    private static final double DAY = 86_400;
    private static final double WEEK = 7 * DAY;
    private static final double MINUTE = 60;
    private static final int SHOWN_SEEDS = 8;
    private static final double MOST_WEATHER_KELVIN = 3.5;
    private static final int RESTART_DAYS = 12;

    private HealthyYears() {}

    /** The term that a seed draws. */
    static Scenario scenario(long seed) {
        double duration = TERM_DAYS * DAY;
        List<Everyday> everyday = new ArrayList<>(Catalogue.openings(seed, duration));
        Draw draw = new Draw(seed, "reloading");
        for (double week = 0; week + WEEK <= duration; week += WEEK) {
            everyday.add(
                    new Everyday(
                            StrictMath.rint(week + draw.between(0, WEEK - 3600)),
                            StrictMath.rint(draw.between(10, 15) * MINUTE),
                            draw.between(0.1, 0.4),
                            draw.inShare(0.5)));
        }
        Scenario.Cabinet cabinet = Catalogue.cabinet(seed);
        return new Scenario(
                seed,
                duration,
                cabinet,
                List.of(),
                everyday,
                weather(seed, cabinet.build()),
                restarts(seed, duration));
    }

    /** Some kelvins over days, but never above the catalogue's warmest room. */
    private static Weather weather(long seed, CabinetBuild build) {
        Draw draw = new Draw(seed, "weather");
        double swing = draw.between(1, MOST_WEATHER_KELVIN);
        double warmest = build.ambientCelsius() + build.ambientSwingKelvin() + swing;
        double mean = StrictMath.min(0, Catalogue.WARMEST_ROOM - warmest);
        return new Weather(mean, swing, draw.between(0, 1));
    }

    /** One in {@value #RESTART_DAYS} days: an update, a machine that is moved to another plug. */
    private static List<Double> restarts(long seed, double duration) {
        Draw draw = new Draw(seed, "restarts");
        List<Double> restarts = new ArrayList<>();
        for (double from = 0; from + RESTART_DAYS * DAY <= duration; from += RESTART_DAYS * DAY) {
            restarts.add(StrictMath.rint(from + draw.between(0, RESTART_DAYS * DAY)));
        }
        return restarts;
    }

    /** Runs what a seed draws. */
    public static Verdict run(long seed, BooleanSupplier isStopped) {
        return Rehearsal.run(scenario(seed), isStopped);
    }

    /** Findings of one code. */
    private static final class Tally {
        private int count;
        private int borneOut;
        private final Map<Long, Double> firstBySeed = new LinkedHashMap<>();
    }

    /** How many findings nothing explains. */
    public static long falseFindings(List<Verdict> verdicts) {
        return verdicts.stream().mapToLong(Verdict::falseFindings).sum();
    }

    /** Findings by code, those that are not due first. */
    public static String text(List<Verdict> verdicts) {
        double years = (double) verdicts.size() / TERMS_A_YEAR;
        StringBuilder text = new StringBuilder();
        text.append(
                String.format(
                        Locale.ROOT,
                        "%d terms of %.0f days = %.1f cabinet-years; eggs %.2f to %.2f °C%n",
                        verdicts.size(),
                        TERM_DAYS,
                        years,
                        verdicts.stream()
                                .mapToDouble(Verdict::lowestEggCelsius)
                                .min()
                                .orElse(Double.NaN),
                        verdicts.stream()
                                .mapToDouble(Verdict::peakEggCelsius)
                                .max()
                                .orElse(Double.NaN)));
        long wrong = falseFindings(verdicts);
        text.append(
                String.format(
                        Locale.ROOT,
                        "findings that are not due: %d, or %.3f a cabinet-year (at most 0.1)%n",
                        wrong,
                        years == 0 ? 0 : wrong / years));
        append(text, verdicts, years, true);
        text.append("due: a door that stood open too long unannounced, or a room too warm\n");
        append(text, verdicts, years, false);
        return text.toString();
    }

    /** One line each finding that is not due. */
    public static List<String> lines(List<Verdict> verdicts) {
        List<String> lines = new ArrayList<>();
        for (Verdict verdict : verdicts) {
            List<Everyday> everyday = scenario(verdict.seed()).everyday();
            for (Verdict.FoundFinding found : verdict.findings()) {
                if (found.bearing() == Verdict.Bearing.UNEXPLAINED) {
                    lines.add(line(verdict.seed(), found, everyday));
                }
            }
        }
        return lines;
    }

    private static String line(long seed, Verdict.FoundFinding found, List<Everyday> everyday) {
        String after =
                everyday.stream()
                        .filter(happening -> happening.atSeconds() <= found.raisedAtSeconds())
                        .max(Comparator.comparingDouble(Everyday::atSeconds))
                        .map(
                                last ->
                                        Times.words(found.raisedAtSeconds() - last.atSeconds())
                                                + " after "
                                                + (last.freshShare() > 0
                                                        ? "a reloading of "
                                                        : "a look of ")
                                                + Times.words(last.forSeconds())
                                                + (last.isAnnounced() ? ", announced" : ""))
                        .orElse("");
        return String.format(
                Locale.ROOT,
                "seed %d, %s: %s, %s; %s%s",
                seed,
                Times.words(found.raisedAtSeconds()),
                found.shortWords(),
                after,
                found.evidence(),
                found.isBorneOut() ? " (true)" : "");
    }

    private static void append(
            StringBuilder text, List<Verdict> verdicts, double years, boolean isWrong) {
        Map<String, Tally> tallies = new TreeMap<>();
        for (Verdict verdict : verdicts) {
            for (Verdict.FoundFinding found : verdict.findings()) {
                if ((found.bearing() == Verdict.Bearing.UNEXPLAINED) == isWrong) {
                    Tally tally =
                            tallies.computeIfAbsent(found.code().value(), code -> new Tally());
                    tally.count++;
                    tally.borneOut += found.isBorneOut() ? 1 : 0;
                    tally.firstBySeed.putIfAbsent(verdict.seed(), found.raisedAtSeconds());
                }
            }
        }
        tallies.forEach(
                (code, tally) ->
                        text.append(
                                String.format(
                                        Locale.ROOT,
                                        "  %-22s %6d = %.3f a cabinet-year%s; seeds%s%n",
                                        code,
                                        tally.count,
                                        tally.count / years,
                                        tally.borneOut == 0
                                                ? ""
                                                : ", "
                                                        + tally.borneOut
                                                        + " of them true to the temperatures",
                                        seeds(tally))));
    }

    private static String seeds(Tally tally) {
        StringBuilder seeds = new StringBuilder();
        tally.firstBySeed.entrySet().stream()
                .limit(SHOWN_SEEDS)
                .forEach(
                        entry ->
                                seeds.append(' ')
                                        .append(entry.getKey())
                                        .append(" (")
                                        .append(Times.words(entry.getValue()))
                                        .append(')'));
        return seeds.append(tally.firstBySeed.size() > SHOWN_SEEDS ? " …" : "").toString();
    }
}
