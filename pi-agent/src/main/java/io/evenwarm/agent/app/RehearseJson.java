package io.evenwarm.agent.app;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.rehearsal.CatalogueRun;
import io.evenwarm.agent.rehearsal.CatalogueTable;
import io.evenwarm.agent.rehearsal.HealthyYears;
import io.evenwarm.agent.rehearsal.Pairs;
import io.evenwarm.agent.rehearsal.PairsTable;
import io.evenwarm.agent.rehearsal.Scenario;
import io.evenwarm.agent.rehearsal.Verdict;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/** The JSON of {@code rehearse}: temperatures in °C, times in s from the scenario's start. */
final class RehearseJson {

    private RehearseJson() {}

    static Map<String, Object> run(Scenario scenario, Verdict verdict) {
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("seed", verdict.seed());
        map.put("durationSeconds", scenario.durationSeconds());
        map.put("ceilingCelsius", scenario.cabinet().ceilingCelsius());
        map.put("peakEggCelsius", verdict.peakEggCelsius());
        map.put("lowestEggCelsius", verdict.lowestEggCelsius());
        map.put("peakAirCelsius", verdict.peakAirCelsius());
        map.put("secondsAboveCeiling", verdict.secondsAboveCeiling());
        map.put("findings", verdict.findings().stream().map(RehearseJson::finding).toList());
        map.put(
                "firstRightFindingAfterFaultSeconds",
                verdict.firstRightFindingAfterFaultSeconds().stream()
                        .map(RehearseJson::orNull)
                        .toList());
        map.put("falseFindings", verdict.falseFindings());
        map.put("setPointReachedAtSeconds", orNull(verdict.response().reachedAtSeconds()));
        map.put("overshootKelvin", orNull(verdict.response().overshootKelvin()));
        map.put("worst10MinuteMeanKelvin", orNull(verdict.response().worstMeanKelvin()));
        map.put("relayOperations", verdict.relayOperations());
        map.put("traceSha256", verdict.traceSha256());
        return map;
    }

    private static Map<String, Object> finding(Verdict.FoundFinding finding) {
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("code", finding.code().value());
        map.put("cabinet", Scenario.CABINET_NAME);
        map.put("probe", finding.probe().map(probe -> probe.value()));
        map.put("raisedAtSeconds", finding.raisedAtSeconds());
        map.put("clearedAtSeconds", orNull(finding.clearedAtSeconds()));
        map.put("actions", List.of(finding.action()));
        map.put("isFalse", finding.bearing() == Verdict.Bearing.UNEXPLAINED);
        return map;
    }

    static Map<String, Object> catalogue(
            List<CatalogueRun> runs, List<CatalogueTable.Row> rows, boolean isComplete) {
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("isComplete", isComplete);
        map.put("rows", rows.stream().map(RehearseJson::row).toList());
        map.put("runs", runs.stream().map(RehearseJson::catalogueRun).toList());
        return map;
    }

    private static Map<String, Object> catalogueRun(CatalogueRun run) {
        CabinetBuild build = run.scenario().cabinet().build();
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("kind", run.kind().word());
        map.put("probe", run.probe().map(probe -> probe.value()));
        map.put("faultAtSeconds", run.scenario().faults().get(0).atSeconds());
        map.put("volumeLitres", build.volumeLitres());
        map.put("heatLossWattsPerKelvin", build.heatLossWattsPerKelvin());
        map.put("heaterWatts", build.heaterWatts());
        map.put("ambientCelsius", build.ambientCelsius());
        map.put("ambientSwingKelvin", build.ambientSwingKelvin());
        map.put("noiseKelvin", build.noiseKelvin());
        map.put("hasFanTachometer", run.scenario().cabinet().hasFanTachometer());
        map.put("dutyBeforeFault", orNull(run.verdict().dutyBeforeFault()));
        map.put("isNeverHeated", run.isNeverHeated());
        map.put("relayOperationsSinceFault", run.verdict().relayOperationsSinceFault());
        map.put("isFindingDue", run.isDue());
        map.putAll(run(run.scenario(), run.verdict()));
        return map;
    }

    private static Map<String, Object> row(CatalogueTable.Row row) {
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("label", row.label());
        map.put("runs", row.runs());
        map.put("aboveCeiling", row.aboveCeiling());
        map.put("peakEggCelsius", row.peakEggCelsius());
        map.put("lowestEggCelsius", row.lowestEggCelsius());
        map.put("due", row.due());
        map.put("medianSeconds", finite(row.medianSeconds()));
        map.put("percentile95Seconds", finite(row.percentile95Seconds()));
        map.put("missed", row.missed());
        map.put("falseFindings", row.others());
        map.put("trips", row.trips());
        map.put("lowestEggOfTripsCelsius", finite(row.lowestEggOfTripsCelsius()));
        map.put("falseTrips", row.falseTrips());
        map.put("lowestEggOfFalseTripsCelsius", finite(row.lowestEggOfFalseTripsCelsius()));
        map.put("foundBeforeTrip", row.foundBeforeTrip());
        return map;
    }

    static Map<String, Object> pairs(List<Pairs.Run> runs, List<PairsTable.Row> rows) {
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("aboveCeilingWithWorkingRelay", PairsTable.aboveWithWorkingRelay(rows));
        map.put("runs", runs.stream().map(RehearseJson::pairRun).toList());
        return map;
    }

    private static Map<String, Object> pairRun(Pairs.Run run) {
        Map<String, Object> map = new LinkedHashMap<>();
        map.put(
                "kinds",
                List.of(run.pair().first().kind().word(), run.pair().second().kind().word()));
        map.put("ceilingAfterSeconds", orNull(run.ceilingAfterSeconds()));
        map.putAll(run(run.scenario(), run.verdict()));
        return map;
    }

    static Map<String, Object> healthy(List<Verdict> verdicts) {
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("cabinetYears", (double) verdicts.size() / HealthyYears.TERMS_A_YEAR);
        map.put("falseFindings", HealthyYears.falseFindings(verdicts));
        map.put(
                "runs",
                verdicts.stream()
                        .map(
                                verdict ->
                                        Map.of(
                                                "seed",
                                                verdict.seed(),
                                                "falseFindings",
                                                verdict.falseFindings(),
                                                "peakEggCelsius",
                                                verdict.peakEggCelsius(),
                                                "lowestEggCelsius",
                                                verdict.lowestEggCelsius(),
                                                "findings",
                                                verdict.findings().stream()
                                                        .map(RehearseJson::finding)
                                                        .toList()))
                        .toList());
        return map;
    }

    private static Optional<Double> orNull(OptionalDouble value) {
        return value.isPresent() ? Optional.of(value.getAsDouble()) : Optional.empty();
    }

    private static Optional<Double> finite(double value) {
        return Double.isFinite(value) ? Optional.of(value) : Optional.empty();
    }
}
