package io.evenwarm.monitor.app;

import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.thermal.Figure;
import io.evenwarm.monitor.thermal.Span;
import io.evenwarm.monitor.thermal.ThermalFit;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;

/**
 * What would become of the eggs, and how well that is known.
 *
 * @param from the newest reading
 * @param seconds how long from then on
 * @param coldest the coldest eggs then, °C
 * @param warmest the warmest eggs then, °C
 * @param belowCelsius a lower limit
 * @param untilBelow until the coldest eggs reach it, s
 * @param aboveCelsius an upper limit; infinite for none
 * @param untilAbove until the warmest eggs reach it, s
 * @param batterySeconds for how long a battery lets everything go on; empty for none
 */
record WhatIfAnswer(
        CabinetKey key,
        Instant from,
        double seconds,
        Span coldest,
        Span warmest,
        double belowCelsius,
        Span untilBelow,
        double aboveCelsius,
        Span untilAbove,
        OptionalDouble batterySeconds,
        ThermalFit fit) {

    private static final double SECONDS_PER_HOUR = 3600;

    /** JSON has no infinity. */
    private static final String NOT_WITHIN = "null";

    List<String> lines(TemperatureUnit unit, ZoneId zone) {
        List<String> lines = new ArrayList<>();
        lines.add(
                String.format(
                        Locale.ROOT,
                        "Cabinet %s of %s, %s after %s. Foretold by a model, not measured; in"
                                + " brackets where it lies in four of five cases.",
                        key.cabinet(),
                        key.agent(),
                        hours(seconds),
                        DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm xxx", Locale.ROOT)
                                .format(from.atZone(zone))));
        batterySeconds.ifPresent(
                held -> lines.add("The battery lasts               " + hours(held)));
        lines.add("Coldest eggs                    " + celsius(coldest, unit));
        lines.add("Warmest eggs                    " + celsius(warmest, unit));
        lines.add(
                String.format(
                        Locale.ROOT,
                        "Coldest eggs at %-16s%s",
                        shown(belowCelsius, unit),
                        times(untilBelow)));
        if (Double.isFinite(aboveCelsius)) {
            lines.add(
                    String.format(
                            Locale.ROOT,
                            "Warmest eggs at %-16s%s",
                            shown(aboveCelsius, unit),
                            times(untilAbove)));
        }
        lines.add("Heat loss                       " + words(fit.lossWattsPerKelvin(), "W/K"));
        lines.add(
                "Eggs follow the air             "
                        + fit.eggTimeConstantSeconds()
                                .fold(
                                        known ->
                                                String.format(
                                                        Locale.ROOT,
                                                        "in %s (%s to %s)",
                                                        hours(known.value()),
                                                        hours(known.low()),
                                                        hours(known.high())),
                                        WhatIfAnswer::words));
        ThermalFit.HeldOut heldOut = fit.heldOut();
        if (heldOut.days() > 0) {
            lines.add(
                    String.format(
                            Locale.ROOT,
                            "The model foretold the air of %d days it was not fitted to within"
                                    + " %.2f %s (root mean square).",
                            heldOut.days(),
                            unit.fromKelvin(heldOut.rootMeanSquareKelvin()),
                            unit == TemperatureUnit.CELSIUS ? "K" : unit.symbol()));
        }
        return lines;
    }

    private static String hours(double seconds) {
        return String.format(Locale.ROOT, "%.1f h", seconds / SECONDS_PER_HOUR);
    }

    private static String shown(double celsius, TemperatureUnit unit) {
        return String.format(Locale.ROOT, "%.1f %s", unit.fromCelsius(celsius), unit.symbol());
    }

    private static String celsius(Span span, TemperatureUnit unit) {
        return String.format(
                Locale.ROOT,
                "%s (%s to %s)",
                shown(span.likely(), unit),
                shown(span.low(), unit),
                shown(span.high(), unit));
    }

    private static String times(Span span) {
        return time("in ", span.likely())
                + " ("
                + time("", span.low())
                + " to "
                + time("", span.high())
                + ")";
    }

    private static String time(String before, double seconds) {
        return Double.isFinite(seconds) ? before + hours(seconds) : "not within 72 h";
    }

    private static String words(Figure figure, String unit) {
        return figure.fold(
                known ->
                        String.format(
                                Locale.ROOT,
                                "%.2f %s (%.2f to %.2f)",
                                known.value(),
                                unit,
                                known.low(),
                                known.high()),
                WhatIfAnswer::words);
    }

    private static String words(Figure.NotKnown notKnown) {
        return "not known: " + notKnown.reason() + ". Would tell: " + notKnown.whatWouldTell();
    }

    String json() {
        ThermalFit.HeldOut heldOut = fit.heldOut();
        return Json.object(
                Json.member("agent", Json.text(key.agent().value())),
                Json.member("cabinet", Json.text(key.cabinet().value())),
                Json.member("from", Json.text(from.toString())),
                Json.member("seconds", number(seconds)),
                Json.member("isForetold", "true"),
                Json.member("coldestEggsCelsius", json(coldest)),
                Json.member("warmestEggsCelsius", json(warmest)),
                Json.member("belowCelsius", number(belowCelsius)),
                Json.member("secondsUntilBelow", json(untilBelow)),
                Json.member("aboveCelsius", number(aboveCelsius)),
                Json.member("secondsUntilAbove", json(untilAbove)),
                Json.member(
                        "batterySeconds",
                        batterySeconds.isPresent()
                                ? number(batterySeconds.getAsDouble())
                                : NOT_WITHIN),
                Json.member(
                        "model",
                        Json.object(
                                Json.member("lossPerPower", json(fit.lossPerPower())),
                                Json.member("lossWattsPerKelvin", json(fit.lossWattsPerKelvin())),
                                Json.member(
                                        "eggTimeConstantSeconds",
                                        json(fit.eggTimeConstantSeconds())),
                                Json.member("heldOutDays", Integer.toString(heldOut.days())),
                                Json.member(
                                        "heldOutRootMeanSquareKelvin",
                                        number(heldOut.rootMeanSquareKelvin())))));
    }

    private static String json(Span span) {
        return Json.object(
                Json.member("low", number(span.low())),
                Json.member("likely", number(span.likely())),
                Json.member("high", number(span.high())));
    }

    private static String json(Figure figure) {
        return figure.fold(
                known ->
                        Json.object(
                                Json.member("value", number(known.value())),
                                Json.member("low", number(known.low())),
                                Json.member("high", number(known.high()))),
                notKnown ->
                        Json.object(
                                Json.member("notKnown", Json.text(notKnown.reason())),
                                Json.member("wouldTell", Json.text(notKnown.whatWouldTell()))));
    }

    private static String number(double value) {
        return Double.isFinite(value) ? String.format(Locale.ROOT, "%.5g", value) : NOT_WITHIN;
    }
}
