package io.evenwarm.monitor.app;

import io.evenwarm.message.Limits;
import io.evenwarm.monitor.alert.LoggedChange;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.outage.Edge;
import io.evenwarm.monitor.outage.EggBand;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.outage.OutageReview;
import io.evenwarm.monitor.outage.Recovery;
import io.evenwarm.monitor.thermal.Span;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * Outages in words; what matters first.
 *
 * @param unit of temperatures
 * @param zone of times
 */
record OutageText(TemperatureUnit unit, ZoneId zone) {

    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm:ss xxx", Locale.ROOT);

    /** One line of a list. */
    String line(Outage outage) {
        return String.format(
                Locale.ROOT,
                "%s  %s to %s, %s: %s",
                outage.id(),
                time(outage.begin().likely()),
                time(outage.end().likely()),
                length(Duration.between(outage.begin().likely(), outage.end().likely())),
                dark(outage));
    }

    private static String dark(Outage outage) {
        return outage.dark().isEmpty()
                ? "no readings, why is not known"
                : outage.dark().stream()
                        .sorted()
                        .map(Outage.Dark::words)
                        .collect(Collectors.joining(" and ", "", " dark"));
    }

    /** A review. */
    List<String> lines(OutageHistory.Told told) {
        OutageReview review = told.review();
        Outage outage = review.outage();
        List<String> lines = new ArrayList<>();
        lines.add(
                review.coldest()
                        .map(coldest -> answer(told, coldest))
                        .orElseGet(
                                () ->
                                        "What the eggs of "
                                                + outage.key().cabinet()
                                                + " had is not known. "
                                                + review.notKnown().get(0)
                                                + "."));
        boolean isLikelyKnown = review.coldest().filter(EggBand::isLikelyKnown).isPresent();
        review.notKnown().stream()
                .skip(isLikelyKnown ? 0 : 1)
                .forEach(words -> lines.add("Not known: " + words + "."));
        lines.add("");
        lines.add("Begin       " + edge(outage.begin()));
        lines.add("End         " + edge(outage.end()));
        lines.add("Dark        " + dark(outage));
        outage.evidence().forEach(words -> lines.add("Because     " + words));
        review.coldest()
                .ifPresent(
                        coldest -> {
                            lines.add(
                                    "Reconstructed, with the 95 % band; none of it was measured:");
                            lines.add(
                                    "  Coldest eggs  " + celsius(coldest, coldest.leastCelsius()));
                            if (coldest.isLikelyKnown()) {
                                lines.add(
                                        "    at about    "
                                                + time(
                                                        Instant.ofEpochMilli(
                                                                coldest.epochMillis(
                                                                        coldest.coldest()))));
                            }
                            below(lines, told, coldest);
                        });
        review.warmest()
                .ifPresent(
                        warmest -> {
                            lines.add(
                                    "  Warmest eggs  "
                                            + celsius(warmest, warmest.greatestCelsius()));
                            told.limits().ifPresent(limits -> above(lines, limits, warmest));
                        });
        recovery(lines, told.recovery());
        for (Tub tub : told.tubs()) {
            lines.add(
                    "Tub         "
                            + tub.name()
                            + ", shelf "
                            + tub.shelf()
                            + ", "
                            + tub.contents()
                            + ": between the coldest and the warmest eggs");
        }
        for (LoggedChange change : told.changes()) {
            lines.add(
                    "Alarm       "
                            + time(change.at())
                            + "  "
                            + change.code()
                            + ": "
                            + change.from()
                            + " to "
                            + change.to()
                            + ", by "
                            + change.who());
        }
        return lines;
    }

    private String answer(OutageHistory.Told told, EggBand coldest) {
        if (!coldest.isLikelyKnown()) {
            return notKnown(told, coldest);
        }
        Span least = coldest.leastCelsius();
        StringBuilder words = new StringBuilder(300);
        words.append("The coldest eggs of ").append(told.review().outage().key().cabinet());
        words.append(" got down to ").append(celsius(coldest, least)).append(", reconstructed");
        Optional<Double> limit = told.limits().map(limits -> limits.tooCold().celsius());
        if (limit.isPresent()) {
            double cold = limit.get();
            words.append(
                    least.low() >= cold
                            ? ", and never below " + shown(cold) + ", the cabinet's cold limit."
                            : (least.likely() < cold ? ", and were" : ", and may have been")
                                    + " below "
                                    + shown(cold)
                                    + ", the cabinet's cold limit, for "
                                    + hours(coldest, coldest.hoursBelow(cold))
                                    + ".");
        } else {
            words.append("; the cabinet's limits are not known.");
        }
        double worst = told.eggsColdLimitCelsius();
        words.append(
                least.low() > worst
                        ? " All of the band is above "
                        : least.high() <= worst
                                ? " All of the band reaches "
                                : least.likely() <= worst
                                        ? " They most likely reached "
                                        : " They may have reached ");
        return words + shown(worst) + ", the settings' cold limit for eggs.";
    }

    private String notKnown(OutageHistory.Told told, EggBand coldest) {
        Span least = coldest.leastCelsius();
        return "How cold the eggs of "
                + told.review().outage().key().cabinet()
                + " got is not known. "
                + told.review().notKnown().get(0)
                + ". The coldest had somewhere from "
                + shown(least.low())
                + ", as without heat, to "
                + shown(least.high())
                + ", as at the begin.";
    }

    private void below(List<String> lines, OutageHistory.Told told, EggBand coldest) {
        told.limits().ifPresent(limits -> lines.add(below(coldest, limits.tooCold().celsius())));
        lines.add(below(coldest, told.eggsColdLimitCelsius()));
    }

    private String below(EggBand band, double limit) {
        return "    below "
                + shown(limit)
                + " for "
                + hours(band, band.hoursBelow(limit))
                + ", "
                + degreeHours(band, band.degreeHoursBelow(limit));
    }

    private void above(List<String> lines, Limits limits, EggBand warmest) {
        for (double limit :
                new double[] {
                    limits.tooWarm().celsius(),
                    limits.cutOff().celsius(),
                    limits.ceiling().celsius()
                }) {
            lines.add(
                    "    above "
                            + shown(limit)
                            + " for "
                            + hours(warmest, warmest.hoursAbove(limit))
                            + ", "
                            + degreeHours(warmest, warmest.degreeHoursAbove(limit)));
        }
    }

    private void recovery(List<String> lines, Recovery recovery) {
        recovery.lastCelsius()
                .ifPresent(
                        last ->
                                lines.add(
                                        "Before      measured: air at "
                                                + shown(last)
                                                + " when readings ended"));
        if (recovery.firstCelsius().isEmpty()) {
            lines.add("Recovery    not known: no air was read after it");
            return;
        }
        lines.add(
                "Recovery    measured: air at "
                        + shown(recovery.firstCelsius().getAsDouble())
                        + " when readings began; "
                        + recovery.settledAfter()
                                .map(
                                        time ->
                                                "within "
                                                        + difference(Recovery.SETTLED_KELVIN)
                                                        + " of the set point after "
                                                        + length(time))
                                .orElse("not seen to settle within 6 h")
                        + "; "
                        + difference(recovery.overshootKelvin().orElse(0))
                        + " above it at most");
    }

    private String time(Instant time) {
        return TIME.format(time.atZone(zone));
    }

    private String edge(Edge edge) {
        return time(edge.likely())
                + ", at the earliest "
                + time(edge.earliest())
                + ", at the latest "
                + time(edge.latest());
    }

    private static String length(Duration length) {
        long minutes = Math.round(length.toMillis() / 60_000.0);
        return minutes < 60 ? minutes + " min" : minutes / 60 + " h " + minutes % 60 + " min";
    }

    private String shown(double celsius) {
        return String.format(Locale.ROOT, "%.1f %s", unit.fromCelsius(celsius), unit.symbol());
    }

    private String celsius(EggBand of, Span span) {
        return from(of, shown(span.likely()), shown(span.low()), shown(span.high()));
    }

    private static String hours(EggBand of, Span span) {
        return from(
                of,
                tenths(span.likely()) + " h",
                tenths(span.low()),
                tenths(span.high()) + (of.isLikelyKnown() ? "" : " h"));
    }

    private static String tenths(double value) {
        return String.format(Locale.ROOT, "%.1f", value);
    }

    /** Both ends alone where nobody knows what is likely between them. */
    private static String from(EggBand of, String likely, String low, String high) {
        String ends = low + " to " + high;
        return of.isLikelyKnown() ? likely + " (" + ends + ")" : ends;
    }

    private String difference(double kelvin) {
        return String.format(Locale.ROOT, "%.1f %s", unit.fromKelvin(kelvin), degrees());
    }

    private String degrees() {
        return unit == TemperatureUnit.CELSIUS ? "K" : unit.symbol();
    }

    private String degreeHours(EggBand of, Span span) {
        String unitOfArea = " " + degrees() + " h";
        return from(
                of,
                tenths(unit.fromKelvin(span.likely())) + unitOfArea,
                tenths(unit.fromKelvin(span.low())),
                tenths(unit.fromKelvin(span.high())) + (of.isLikelyKnown() ? "" : unitOfArea));
    }
}
