package io.evenwarm.monitor.app;

import io.evenwarm.monitor.alert.LoggedChange;
import io.evenwarm.monitor.notice.DeliveryState;
import io.evenwarm.monitor.notice.NoticeSent;
import io.evenwarm.monitor.outage.Edge;
import io.evenwarm.monitor.outage.EggBand;
import io.evenwarm.monitor.outage.HumidityAround;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.outage.OutageReview;
import io.evenwarm.monitor.outage.Recovery;
import io.evenwarm.monitor.outage.TubExposure;
import io.evenwarm.monitor.report.OutageAccount;
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
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import java.util.stream.Stream;

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

    static String dark(Outage outage) {
        return outage.dark().isEmpty()
                ? outage.words() + (outage.isGap() ? ", why is not known" : "")
                : outage.dark().stream()
                        .sorted()
                        .map(Outage.Dark::words)
                        .collect(
                                Collectors.joining(
                                        " and ",
                                        "",
                                        outage.kind() == Outage.Kind.PROBE
                                                ? " dark: " + outage.words()
                                                : " dark"));
    }

    /** A review. */
    List<String> lines(OutageAccount told) {
        OutageReview review = told.review();
        Outage outage = review.outage();
        List<String> lines = new ArrayList<>();
        lines.add(answer(told));
        notKnown(told).forEach(words -> lines.add("Not known: " + words + "."));
        lines.add("");
        lines.add("Begin       " + edge(outage.begin()));
        lines.add("End         " + edge(outage.end()));
        lines.add("Dark        " + dark(outage));
        outage.evidence().forEach(words -> lines.add("Because     " + words));
        review.coldest().ifPresent(coldest -> coldest(lines, told, coldest));
        review.warmest().ifPresent(warmest -> warmest(lines, told, warmest));
        before(told).ifPresent(words -> lines.add("Before      " + words));
        lines.add("Recovery    " + recovery(told));
        told.humidity().forEach(each -> lines.add("Humidity    " + humidity(told, each)));
        review.tubs().forEach(tub -> lines.add("Tub         " + tub(told, tub)));
        told.changes()
                .forEach(
                        change ->
                                lines.add(
                                        "Alarm       " + time(change.at()) + "  " + alarm(change)));
        told.notices()
                .forEach(
                        notice ->
                                lines.add(
                                        "Notice      "
                                                + time(notice.at())
                                                + "  "
                                                + notice.subject()
                                                + ": "
                                                + way(notice)));
        return lines;
    }

    /** What matters, in a sentence or two. */
    String answer(OutageAccount told) {
        return told.review()
                .coldest()
                .map(coldest -> answer(told, coldest))
                .orElseGet(
                        () ->
                                "What the eggs of "
                                        + told.review().outage().key().cabinet()
                                        + " had is not known. "
                                        + told.review().notKnown().get(0)
                                        + ".");
    }

    /** What is not known and why, as far as {@link #answer} does not say it. */
    static List<String> notKnown(OutageAccount told) {
        boolean isLikelyKnown = told.review().coldest().filter(EggBand::isLikelyKnown).isPresent();
        return told.review().notKnown().stream().skip(isLikelyKnown ? 0 : 1).toList();
    }

    /** How what is said of eggs is known. */
    static String source(Outage outage) {
        return outage.isGap() ? "reconstructed" : "estimated from the air that was read";
    }

    private void coldest(List<String> lines, OutageAccount told, EggBand coldest) {
        lines.add(
                (told.review().outage().isGap() ? "Reconstructed" : "Estimated")
                        + ", with the 95 % band; none of it was measured:");
        lines.add("  Coldest eggs  " + celsius(coldest, coldest.leastCelsius()));
        if (coldest.isLikelyKnown()) {
            lines.add(
                    "    at about    "
                            + time(Instant.ofEpochMilli(coldest.epochMillis(coldest.coldest()))));
        }
        below(told, coldest).forEach(line -> lines.add(line.text()));
    }

    private void warmest(List<String> lines, OutageAccount told, EggBand warmest) {
        lines.add("  Warmest eggs  " + celsius(warmest, warmest.greatestCelsius()));
        above(told, warmest).forEach(line -> lines.add(line.text()));
    }

    /** How long eggs were beyond a limit, in words. */
    record LimitLine(String limit, String hours, String degreeHours) {
        String text() {
            return "    " + limit + " for " + hours + ", " + degreeHours;
        }
    }

    List<LimitLine> below(OutageAccount told, EggBand eggs) {
        List<LimitLine> lines = new ArrayList<>();
        told.limits().ifPresent(limits -> lines.add(below(eggs, limits.tooCold().celsius())));
        lines.add(below(eggs, told.eggsColdLimitCelsius()));
        return lines;
    }

    List<LimitLine> above(OutageAccount told, EggBand eggs) {
        return told.limits().stream()
                .flatMap(limits -> Stream.of(limits.tooWarm(), limits.cutOff(), limits.ceiling()))
                .map(limit -> above(eggs, limit.celsius()))
                .toList();
    }

    private LimitLine below(EggBand eggs, double limit) {
        return new LimitLine(
                "below " + shown(limit),
                hours(eggs, eggs.hoursBelow(limit)),
                degreeHours(eggs, eggs.degreeHoursBelow(limit)));
    }

    private LimitLine above(EggBand eggs, double limit) {
        return new LimitLine(
                "above " + shown(limit),
                hours(eggs, eggs.hoursAbove(limit)),
                degreeHours(eggs, eggs.degreeHoursAbove(limit)));
    }

    private String tub(OutageAccount told, TubExposure exposure) {
        StringBuilder words = new StringBuilder(200);
        words.append(exposure.tub().name()).append(", shelf ").append(exposure.tub().shelf());
        words.append(", ").append(exposure.tub().contents()).append(": ");
        if (exposure.eggs().isEmpty()) {
            return words.append("not known").toString();
        }
        EggBand eggs = exposure.eggs().get();
        words.append(source(told.review().outage())).append(' ');
        words.append("from ").append(celsius(eggs, eggs.leastCelsius()));
        words.append(" to ").append(celsius(eggs, eggs.greatestCelsius()));
        below(told, eggs)
                .forEach(
                        line ->
                                words.append("; ")
                                        .append(line.limit())
                                        .append(" for ")
                                        .append(line.hours()));
        return words.append(shelf(exposure)).toString();
    }

    /** What is to be said of the shelf; empty where a probe stands for it. */
    static String shelf(TubExposure exposure) {
        return exposure.isShelfKnown()
                ? ""
                : "; no probe has that shelf as its place, so the band is that of all shelves";
    }

    static String alarm(LoggedChange change) {
        return change.code() + ": " + change.from() + " to " + change.to() + ", by " + change.who();
    }

    /** To whom a notice went, by what channel, and what came of it. */
    String way(NoticeSent notice) {
        return "to "
                + notice.person()
                + " by "
                + notice.channel()
                + ", "
                + notice.state().word()
                + (notice.state() == DeliveryState.PENDING
                        ? ""
                        : notice.ended().map(ended -> " " + time(ended)).orElse(""));
    }

    String humidity(OutageAccount told, HumidityAround humidity) {
        return humidity.probe()
                + ", measured: "
                + percent(humidity.lastPercent())
                + " before, "
                + (told.review().outage().isGap() ? "not known in between, " : "")
                + percent(humidity.firstPercent())
                + " when it was over, "
                + percent(humidity.leastPercent())
                + " to "
                + percent(humidity.greatestPercent())
                + " in the 6 h after";
    }

    private static String percent(OptionalDouble value) {
        return value.isPresent()
                ? String.format(Locale.ROOT, "%.0f %%RH", value.getAsDouble())
                : "not read";
    }

    private String answer(OutageAccount told, EggBand coldest) {
        if (!coldest.isLikelyKnown()) {
            return notKnown(told, coldest);
        }
        Span least = coldest.leastCelsius();
        StringBuilder words = new StringBuilder(300);
        words.append("The coldest eggs of ").append(told.review().outage().key().cabinet());
        words.append(" got down to ").append(celsius(coldest, least));
        words.append(", ").append(source(told.review().outage()));
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

    private String notKnown(OutageAccount told, EggBand coldest) {
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

    /** The air when readings ended; empty where it was not read. */
    Optional<String> before(OutageAccount told) {
        OptionalDouble last = told.recovery().lastCelsius();
        return last.isPresent()
                ? Optional.of(
                        "measured: air at "
                                + shown(last.getAsDouble())
                                + (told.review().outage().isGap()
                                        ? " when readings ended"
                                        : " when it began"))
                : Optional.empty();
    }

    String recovery(OutageAccount told) {
        Recovery recovery = told.recovery();
        if (recovery.firstCelsius().isEmpty()) {
            return "not known: no air was read after it";
        }
        return "measured: air at "
                + shown(recovery.firstCelsius().getAsDouble())
                + (told.review().outage().isGap() ? " when readings began; " : " at its end; ")
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
                + " above it at most";
    }

    String time(Instant time) {
        return TIME.format(time.atZone(zone));
    }

    String edge(Edge edge) {
        return time(edge.likely())
                + ", at the earliest "
                + time(edge.earliest())
                + ", at the latest "
                + time(edge.latest())
                + (edge.isClockSet() ? "" : ", by the agent's clock, which nobody had set");
    }

    static String length(Duration length) {
        long minutes = Math.round(length.toMillis() / 60_000.0);
        return minutes < 60 ? minutes + " min" : minutes / 60 + " h " + minutes % 60 + " min";
    }

    String shown(double celsius) {
        return String.format(Locale.ROOT, "%.1f %s", unit.fromCelsius(celsius), unit.symbol());
    }

    String celsius(EggBand of, Span span) {
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

    String degrees() {
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
