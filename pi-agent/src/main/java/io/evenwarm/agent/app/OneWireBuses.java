package io.evenwarm.agent.app;

import io.evenwarm.agent.app.CabinetSettings.ProbeDriver;
import io.evenwarm.agent.driver.sysfs.OneWireThermometer;
import io.evenwarm.settings.TomlSection;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * How many configured probes wait for each other on each 1-Wire bus. Probes that are not there just
 * now are taken for neighbours on one bus, which is the slowest that they can be.
 */
final class OneWireBuses {

    private final Path folder;
    private final Map<String, Integer> probesByBus = new HashMap<>();

    /**
     * @param folder Linux's 1-Wire devices
     * @param cabinets all of the file's
     */
    OneWireBuses(Path folder, List<TomlSection> cabinets) {
        this.folder = folder;
        cabinets.stream()
                .flatMap(cabinet -> cabinet.sections("probe").stream())
                .filter(
                        probe ->
                                probe.text("driver")
                                        .equals(Optional.of(ProbeDriver.ONE_WIRE.word())))
                .forEach(
                        probe ->
                                probesByBus.merge(
                                        bus(probe.text("address").orElse("")), 1, Integer::sum));
    }

    /** How many probes share the bus of this one, itself included. */
    int sharing(String address) {
        return Math.max(1, probesByBus.getOrDefault(bus(address), 1));
    }

    private String bus(String address) {
        return OneWireThermometer.isAddress(address)
                ? OneWireThermometer.busOf(folder, address)
                : "";
    }
}
