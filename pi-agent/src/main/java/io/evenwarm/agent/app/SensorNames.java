package io.evenwarm.agent.app;

import io.evenwarm.agent.app.CabinetSettings.ProbeWiring;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.ProbeSensor;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** What the probes of a configuration are, as far as their addresses tell. */
final class SensorNames {

    /** Family codes of 1-Wire thermometers (Linux kernel, w1_family.h, from memory). */
    private static final Map<String, String> FAMILIES =
            Map.of(
                    "10", "ds18s20",
                    "22", "ds1822",
                    "28", "ds18b20",
                    "3b", "ds1825",
                    "42", "ds28ea00");

    private static final int FAMILY_DIGITS = 2;

    private SensorNames() {}

    static List<ProbeSensor> of(AgentConfiguration configuration) {
        List<ProbeSensor> sensors = new ArrayList<>();
        for (CabinetSettings cabinet : configuration.cabinets()) {
            List<ProbePlan> probes = cabinet.plan().probes();
            for (int i = 0; i < probes.size(); i++) {
                ProbePlan probe = probes.get(i);
                of(cabinet.probes().get(i), probe.sensor())
                        .filter(name -> name.length() <= ProbeSensor.LENGTH_MAX)
                        .ifPresent(
                                name ->
                                        sensors.add(
                                                new ProbeSensor(
                                                        cabinet.plan().name(),
                                                        probe.name(),
                                                        name)));
            }
        }
        return sensors;
    }

    /** A probe's sensor; empty where its address does not say. */
    static Optional<String> of(ProbeWiring wiring, ProbePlan.Sensor sensor) {
        return switch (wiring.driver()) {
            case ONE_WIRE ->
                    Optional.ofNullable(FAMILIES.get(wiring.address().substring(0, FAMILY_DIGITS)));
            // The device's name in the kernel, or the family that this program talks to itself.
            case HWMON, IIO, I2C ->
                    Optional.of(wiring.address().split("[@/]", 2)[0].toLowerCase(Locale.ROOT));
            // A board reports numbers, not what it had them from.
            case SERIAL_BOARD -> Optional.empty();
            case SIMULATED ->
                    sensor == ProbePlan.Sensor.DS18B20 ? Optional.of("ds18b20") : Optional.empty();
        };
    }
}
