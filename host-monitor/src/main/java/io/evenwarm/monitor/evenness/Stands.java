package io.evenwarm.monitor.evenness;

import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Which probes were moved between positions, and where each stood when. Probes that are not named
 * stood all the time where their agent says.
 *
 * @param all as the keeper said
 */
public record Stands(List<Stand> all) {

    /** No probe was moved. */
    public static final Stands NONE = new Stands(List.of());

    /** Nobody carries a probe from place to place for longer. Common practice, no source. */
    private static final Duration GAP_MAX = Duration.ofMinutes(30);

    public Stands {
        all = List.copyOf(all);
    }

    /** These, and of those that were said earlier the ones of other times. */
    public Stands over(Stands earlier) {
        List<Stand> both = new ArrayList<>(all);
        earlier.all.stream()
                .filter(stand -> all.stream().noneMatch(newer -> haveTimeInCommon(newer, stand)))
                .forEach(both::add);
        return new Stands(both);
    }

    private static boolean haveTimeInCommon(Stand one, Stand other) {
        return one.span().from().isBefore(other.span().to())
                && other.span().from().isBefore(one.span().to());
    }

    /** Those of some probes within a span, cut to it, by probe and time. */
    private Map<String, List<Stand>> within(TimeSpan span, Set<String> without) {
        Map<String, List<Stand>> within = new LinkedHashMap<>();
        all.stream()
                .filter(stand -> !without.contains(stand.probe()))
                .filter(stand -> stand.span().from().isBefore(span.to()))
                .filter(stand -> stand.span().to().isAfter(span.from()))
                .map(stand -> new Stand(stand.probe(), stand.place(), cut(stand.span(), span)))
                .sorted(
                        Comparator.comparing(Stand::probe)
                                .thenComparing(stand -> stand.span().from()))
                .forEach(
                        stand ->
                                within.computeIfAbsent(stand.probe(), probe -> new ArrayList<>())
                                        .add(stand));
        return within;
    }

    private static TimeSpan cut(TimeSpan one, TimeSpan to) {
        return new TimeSpan(
                one.from().isBefore(to.from()) ? to.from() : one.from(),
                one.to().isAfter(to.to()) ? to.to() : one.to());
    }

    /**
     * Every place at which probes stood within a span, for each probe that was moved, by probe.
     *
     * @param without probes that are left out
     * @throws IllegalArgumentException when they contradict each other or the readings: an unknown
     *     probe, one at two positions at once or at none that is known, two at one position
     */
    Map<String, Map<ProbePlace, List<TimeSpan>>> places(
            CabinetCurves curves, Set<String> without, Wording wording) {
        Map<String, List<Stand>> moved = within(curves.span(), without);
        requireInTheAir(moved.keySet(), curves);
        Map<ProbePlace, String> probeAt = new LinkedHashMap<>();
        for (ProbeCurve probe : curves.probes()) {
            String name = probe.probe().value();
            if (probe.place().kind().isAir()
                    && !without.contains(name)
                    && !moved.containsKey(name)) {
                probeAt.put(probe.place(), name);
            }
        }
        if (probeAt.isEmpty() && !moved.isEmpty()) {
            throw new IllegalArgumentException(
                    "one probe in the cabinet's air at least must stay in its place, to compare the"
                            + " others with, but all were moved: "
                            + String.join(", ", moved.keySet()));
        }
        Map<String, Map<ProbePlace, List<TimeSpan>>> places = new LinkedHashMap<>();
        moved.forEach(
                (probe, stands) -> {
                    requireOneAfterAnother(probe, stands, curves.span(), wording);
                    Map<ProbePlace, List<TimeSpan>> its = new LinkedHashMap<>();
                    for (Stand stand : stands) {
                        stand.place()
                                .ifPresent(
                                        place ->
                                                its.computeIfAbsent(place, p -> new ArrayList<>())
                                                        .add(stand.span()));
                    }
                    its.keySet().forEach(place -> requireAlone(place, probe, probeAt));
                    places.put(probe, its);
                });
        return places;
    }

    private static void requireInTheAir(Set<String> moved, CabinetCurves curves) {
        List<String> known =
                curves.probes().stream()
                        .filter(probe -> probe.place().kind().isAir())
                        .map(probe -> probe.probe().value())
                        .distinct()
                        .sorted()
                        .toList();
        for (String probe : moved) {
            if (!known.contains(probe)) {
                throw new IllegalArgumentException(
                        "positions must be of probes in the cabinet's air with readings in this"
                                + " span, "
                                + String.join(", ", known)
                                + ", but named "
                                + probe);
            }
        }
    }

    private static void requireAlone(
            ProbePlace place, String probe, Map<ProbePlace, String> probeAt) {
        Optional<String> other = Optional.ofNullable(probeAt.putIfAbsent(place, probe));
        if (other.isPresent()) {
            throw new IllegalArgumentException(
                    "position \""
                            + place.label()
                            + "\" must be of one probe alone but is said of "
                            + other.get()
                            + " and of "
                            + probe);
        }
    }

    private static void requireOneAfterAnother(
            String probe, List<Stand> stands, TimeSpan span, Wording wording) {
        Instant until = span.from();
        String before = "";
        for (Stand stand : stands) {
            Instant from = stand.span().from();
            if (from.isBefore(until)) {
                throw new IllegalArgumentException(
                        probe
                                + " can't stand at two positions at once, but from "
                                + wording.time(from)
                                + " to "
                                + wording.time(
                                        until.isBefore(stand.span().to())
                                                ? until
                                                : stand.span().to())
                                + " it is said to be at \""
                                + before
                                + "\" and at \""
                                + stand.words()
                                + "\"");
            }
            requireNoGap(probe, until, from, wording);
            until = stand.span().to();
            before = stand.words();
        }
        requireNoGap(probe, until, span.to(), wording);
    }

    private static void requireNoGap(String probe, Instant from, Instant to, Wording wording) {
        if (Duration.between(from, to).compareTo(GAP_MAX) > 0) {
            throw new IllegalArgumentException(
                    "nothing says where "
                            + probe
                            + " stood from "
                            + wording.time(from)
                            + " to "
                            + wording.time(to)
                            + ": say it, or \""
                            + Stand.OUT
                            + "\" where it was not in the cabinet (up to 30 min may be left open)");
        }
    }
}
