package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbeName;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * One run of the catalogue, and what it came to.
 *
 * @param heaterRatio the heater's power as a multiple of what holds the set point at 12 °C
 * @param isDue whether a right finding must come; else one may
 * @param foundAfterSeconds from the fault to the first right finding; empty: never
 */
public record CatalogueRun(
        FaultKind kind,
        Scenario scenario,
        Verdict verdict,
        double heaterRatio,
        boolean isDue,
        OptionalDouble foundAfterSeconds) {

    static CatalogueRun of(FaultKind kind, Scenario scenario, Verdict verdict) {
        CabinetBuild build = scenario.cabinet().build();
        double holdingWatts =
                build.heatLossWattsPerKelvin()
                        * (scenario.cabinet().setPointCelsius() - CabinetBuild.COLD_ROOM_CELSIUS);
        return new CatalogueRun(
                kind,
                scenario,
                verdict,
                build.heaterWatts() / holdingWatts,
                DueFindings.isDue(scenario, scenario.faults().get(0), verdict),
                verdict.firstRightFindingAfterFaultSeconds().get(0));
    }

    /** The seed that draws it again. */
    public long seed() {
        return scenario.seed();
    }

    /** The probe that the fault hits, where it hits one. */
    public Optional<ProbeName> probe() {
        return scenario.faults().get(0).probe();
    }

    /** Whether a right finding was due and never came. */
    public boolean isMissed() {
        return isDue && foundAfterSeconds.isEmpty();
    }

    /**
     * Whether even in the coldest hour the room and the fan hold this cabinet without its heater.
     */
    public boolean isNeverHeated() {
        return DueFindings.isNeverHeated(scenario.cabinet());
    }

    /** Findings that nothing explains. */
    public List<Verdict.FoundFinding> others() {
        return verdict.findings().stream()
                .filter(found -> found.bearing() == Verdict.Bearing.UNEXPLAINED)
                .toList();
    }

    /** Whether the cut-off latched. */
    public boolean hasTrip() {
        return verdict.firstRaised(FindingCode.CUT_OFF_TRIPPED).isPresent();
    }

    /** Whether the cut-off latched although nothing was that hot. */
    public boolean hasFalseTrip() {
        return verdict.findings().stream().anyMatch(Verdict.FoundFinding::isFalseTrip);
    }

    /** Whether it was found before the cut-off tripped, or the cut-off never did. */
    public boolean isFoundBeforeTrip() {
        OptionalDouble trip = verdict.firstRaised(FindingCode.CUT_OFF_TRIPPED);
        return foundAfterSeconds.isPresent()
                && (trip.isEmpty()
                        || scenario.faults().get(0).atSeconds() + foundAfterSeconds.getAsDouble()
                                < trip.getAsDouble());
    }

    /** All about it in one line; {@link #LINE_HEAD} heads its columns. */
    public String line() {
        CabinetBuild build = scenario.cabinet().build();
        StringBuilder line = new StringBuilder();
        line.append(
                String.format(
                        Locale.ROOT,
                        "%-19s %6d %5.0f %5.2f %5.2f %4.0f%% %5.1f±%-4.1f %5.3f %-4s %8s %7.2f %7.2f",
                        kind.word(),
                        seed(),
                        build.volumeLitres(),
                        build.heatLossWattsPerKelvin(),
                        heaterRatio,
                        100 * verdict.dutyBeforeFault().orElse(Double.NaN),
                        build.ambientCelsius(),
                        build.ambientSwingKelvin(),
                        build.noiseKelvin(),
                        scenario.cabinet().hasFanTachometer() ? "yes" : "no",
                        isDue || foundAfterSeconds.isPresent()
                                ? Times.words(foundAfterSeconds)
                                : "none due",
                        verdict.peakEggCelsius(),
                        verdict.lowestEggCelsius()));
        line.append("  ").append(scenario.faults().get(0).words());
        line.append(findingsInShort());
        return line.toString();
    }

    /** Each finding once, from its first raising, with how often it was raised. */
    private String findingsInShort() {
        double at = scenario.faults().get(0).atSeconds();
        Map<String, Integer> times = new LinkedHashMap<>();
        Map<String, Double> first = new HashMap<>();
        for (Verdict.FoundFinding found : verdict.findings()) {
            String words =
                    (found.bearing() == Verdict.Bearing.UNEXPLAINED ? "FALSE " : "")
                            + (found.raisedAtSeconds() < at ? "before " : "")
                            + found.shortWords()
                            + (found.isFalseTrip() ? " (false trip)" : "");
            times.merge(words, 1, Integer::sum);
            first.putIfAbsent(words, found.raisedAtSeconds() - at);
        }
        StringBuilder line = new StringBuilder();
        times.forEach(
                (words, count) ->
                        line.append("; ")
                                .append(words)
                                .append(' ')
                                .append(Times.signed(first.getOrDefault(words, 0.0)))
                                .append(count == 1 ? "" : " (" + count + " times)"));
        return line.toString();
    }

    /** Heads {@link #line}. */
    public static final String LINE_HEAD =
            String.format(
                    Locale.ROOT,
                    "%-19s %6s %5s %5s %5s %5s %10s %5s %-4s %8s %7s %7s  %s",
                    "kind",
                    "seed",
                    "L",
                    "W/K",
                    "ratio",
                    "duty",
                    "room °C",
                    "noise",
                    "tach",
                    "found",
                    "egg max",
                    "egg min",
                    "fault; findings, from the fault on");
}
