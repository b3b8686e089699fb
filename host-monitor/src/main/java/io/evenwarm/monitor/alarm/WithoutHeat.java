package io.evenwarm.monitor.alarm;

import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Duration;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What would come to a cabinet's eggs without heat, from its newest snapshot on.
 *
 * @param left until the coldest eggs are at the limit, the careful figure; empty where they are not
 *     foretold to get there
 * @param limit the least that eggs are taken to bear
 * @param eggs what the cabinet's own model takes the coldest eggs to have then; empty where the
 *     settings' constants answer in place of a model
 */
public record WithoutHeat(Optional<Duration> left, Temperature limit, Optional<Temperature> eggs) {

    private static final long MINUTE_SECONDS = 60;
    private static final long HOUR_SECONDS = 3600;

    /** Longer than this is told in hours. */
    private static final long MINUTES_UNTIL_SECONDS = 2 * HOUR_SECONDS;

    /** Of an estimate; empty where its limit is not known. */
    public static Optional<WithoutHeat> of(TimeLeft.Estimate estimate) {
        if (estimate.coldLimitCelsius().isEmpty()) {
            return Optional.empty();
        }
        OptionalDouble eggs = estimate.eggsCelsius();
        return Optional.of(
                new WithoutHeat(
                        estimate.toCold(),
                        Temperature.ofCelsius(estimate.coldLimitCelsius().getAsDouble()),
                        eggs.isPresent()
                                ? Optional.of(Temperature.ofCelsius(eggs.getAsDouble()))
                                : Optional.empty()));
    }

    /**
     * How long there would be, as one sentence.
     *
     * @param silentFor how long nothing has been heard of the cabinet; empty while it is live
     */
    public String timeWords(TemperatureUnit unit, Optional<Duration> silentFor) {
        String limit = unit.format(this.limit, 1);
        String what =
                left.map(from -> silentFor.map(from::minus).orElse(from))
                        .map(
                                now ->
                                        now.isNegative() || now.isZero()
                                                ? "the eggs may be at " + limit + " already"
                                                : "about "
                                                        + words(now)
                                                        + (silentFor.isEmpty() ? "" : " from now")
                                                        + " until the eggs are at "
                                                        + limit)
                        .orElse("the eggs are not foretold to get to " + limit);
        return "If heating stopped "
                + (silentFor.isEmpty() ? "now" : "when last heard")
                + ": "
                + what
                + ".";
    }

    /**
     * How warm the coldest eggs are taken to be, or why that is not known, as one sentence.
     *
     * @param isLive whether the cabinet is heard of
     */
    public String eggWords(TemperatureUnit unit, boolean isLive) {
        return eggs.map(its -> (isLive ? "Eggs about " : "Eggs then about ") + unit.format(its, 1))
                        .orElse("No model yet: by the settings' constants")
                + ".";
    }

    private static String words(Duration left) {
        long seconds = left.toSeconds();
        if (seconds < 2 * MINUTE_SECONDS) {
            return seconds + " s";
        }
        return seconds < MINUTES_UNTIL_SECONDS
                ? seconds / MINUTE_SECONDS + " min"
                : seconds / HOUR_SECONDS + " h";
    }
}
