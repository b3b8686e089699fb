package io.evenwarm.agent.app;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.Limits;
import io.evenwarm.message.Moment;
import io.evenwarm.message.PreviousRun;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Quantity;
import io.evenwarm.quantity.Temperature;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** A snapshot as the members of a JSON object; temperatures in °C by name. */
final class StatusJson {

    private static final double NANOS_PER_SECOND = 1e9;

    private StatusJson() {}

    static Map<String, Object> previousRun(PreviousRun run) {
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("ending", run.ending().name().toLowerCase(Locale.ROOT).replace('_', '-'));
        map.put("lastAlive", run.lastAlive().map(moment -> moment.wall().toString()));
        map.put("lastAliveTrusted", run.lastAlive().map(Moment::wallTrusted));
        return map;
    }

    static Map<String, Object> cabinet(CabinetSnapshot snapshot) {
        long nowNanos = snapshot.moment().monotonicNanos();
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("name", snapshot.cabinet().value());
        map.put("tick", snapshot.tick());
        map.put("wall", snapshot.moment().wall().toString());
        map.put("wallTrusted", snapshot.moment().wallTrusted());
        map.put("processCelsius", snapshot.processValue().map(Temperature::celsius));
        map.put("setPointCelsius", snapshot.setPoint().celsius());
        map.put("configuredSetPointCelsius", snapshot.configuredSetPoint().celsius());
        map.put("limits", limits(snapshot.limits()));
        map.put("duty", snapshot.duty().fraction());
        map.put("heaterOn", snapshot.heaterOn());
        map.put("cutOffRelayClosed", snapshot.cutOffRelayClosed());
        map.put("fanOn", snapshot.fanOn());
        map.put("guard", snapshot.guard().name().toLowerCase(Locale.ROOT));
        map.put("silenced", snapshot.silenced());
        map.put("doorOpen", snapshot.doorOpen());
        map.put("fanTurnsPerMinute", snapshot.fanTurnsPerMinute());
        map.put(
                "plannedWorkSecondsLeft",
                snapshot.plannedWorkUntilNanos().map(end -> (end - nowNanos) / NANOS_PER_SECOND));
        snapshot.moisture()
                .ifPresent(
                        moisture -> {
                            map.put("humidityPercent", moisture.humidityPercent());
                            map.put(
                                    "dewPointCelsius",
                                    moisture.dewPoint().map(Temperature::celsius));
                            map.put("humidifierOn", moisture.humidifierOn());
                            map.put("ventOn", moisture.ventOn());
                        });
        snapshot.control()
                .ifPresent(
                        control -> {
                            map.put("relayOperations", control.relayOperations());
                            map.put("activity", control.activity());
                            map.put("notes", control.notes());
                        });
        map.put("probes", snapshot.probes().stream().map(probe -> probe(probe, nowNanos)).toList());
        map.put(
                "findings",
                snapshot.findings().stream().map(finding -> finding(finding, nowNanos)).toList());
        return map;
    }

    private static Map<String, Object> limits(Limits limits) {
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("tooColdCelsius", limits.tooCold().celsius());
        map.put("tooWarmCelsius", limits.tooWarm().celsius());
        map.put("cutOffCelsius", limits.cutOff().celsius());
        map.put("ceilingCelsius", limits.ceiling().celsius());
        return map;
    }

    private static Map<String, Object> probe(ProbeReading probe, long nowNanos) {
        Reading reading = probe.reading();
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("name", probe.probe().value());
        map.put("position", probe.place().label());
        map.put("quality", reading.fold(good -> "good", uncertain -> "uncertain", bad -> "bad"));
        reading.quantity().ifPresent(quantity -> putQuantity(map, quantity));
        map.put(
                "doubt",
                reading.<Optional<String>>fold(
                        good -> Optional.empty(),
                        uncertain -> Optional.of(uncertain.doubt().words()),
                        bad -> Optional.of(bad.doubt().words())));
        map.put("ageSeconds", (nowNanos - reading.sampledAtNanos()) / NANOS_PER_SECOND);
        return map;
    }

    private static void putQuantity(Map<String, Object> map, Quantity quantity) {
        quantity.fold(
                temperature -> map.put("celsius", temperature.celsius()),
                humidity -> map.put("relativeHumidityPercent", humidity.percent()));
    }

    private static Map<String, Object> finding(Finding finding, long nowNanos) {
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("code", finding.code().value());
        map.put("probe", finding.probe().map(probe -> probe.value()));
        map.put("sinceSeconds", (nowNanos - finding.raisedAtNanos()) / NANOS_PER_SECOND);
        map.put("evidence", finding.evidence());
        map.put("action", finding.action());
        map.put("advice", finding.advice());
        return map;
    }
}
