package io.evenwarm.agent.app;

import io.evenwarm.agent.app.AgentConfiguration.Roots;
import io.evenwarm.agent.app.CabinetSettings.ProbeWiring;
import io.evenwarm.agent.driver.BusReader;
import io.evenwarm.agent.driver.SampleSource;
import io.evenwarm.agent.driver.pi4j.Gpio;
import io.evenwarm.agent.driver.pi4j.I2cBuses;
import io.evenwarm.agent.driver.pi4j.ShtAddress;
import io.evenwarm.agent.driver.pi4j.ShtSensor;
import io.evenwarm.agent.driver.serial.BoardAddress;
import io.evenwarm.agent.driver.serial.SerialBoard;
import io.evenwarm.agent.driver.sysfs.HwmonChannel;
import io.evenwarm.agent.driver.sysfs.IioChannel;
import io.evenwarm.agent.driver.sysfs.OneWireBulk;
import io.evenwarm.agent.driver.sysfs.OneWireThermometer;
import io.evenwarm.agent.port.Probe;
import io.evenwarm.clock.MonotonicClock;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Devices that several probes or lines share; each made when the first one asks for it. */
final class SharedDevices {

    private final Roots roots;
    private final MonotonicClock clock;
    private final Map<String, SerialBoard> boards = new LinkedHashMap<>();
    private final Map<ShtAddress.Device, ShtSensor> shts = new HashMap<>();
    private Optional<I2cBuses> buses = Optional.empty();
    private Optional<Gpio> gpio = Optional.empty();

    SharedDevices(Roots roots, MonotonicClock clock) {
        this.roots = roots;
        this.clock = clock;
    }

    /** Probes of one bus wait for each other anyway; a device that hangs must hold up no other. */
    String busName(ProbeWiring wiring) {
        String address = wiring.address();
        return switch (wiring.driver()) {
            case ONE_WIRE -> OneWireThermometer.busOf(roots.oneWire(), address);
            case HWMON, IIO ->
                    wiring.driver().word() + " " + address.substring(0, address.indexOf('/'));
            case I2C -> sht(wiring).device().busName();
            case SERIAL_BOARD, SIMULATED -> throw noBus(wiring);
        };
    }

    /** What reads a probe on a bus. */
    SampleSource source(ProbeWiring wiring) {
        String address = wiring.address();
        return switch (wiring.driver()) {
            case ONE_WIRE -> new OneWireThermometer(roots.oneWire(), address);
            case HWMON -> new HwmonChannel(roots.hwmon(), address);
            case IIO -> new IioChannel(roots.iio(), address);
            case I2C ->
                    shts.computeIfAbsent(
                                    sht(wiring).device(),
                                    device -> new ShtSensor(device, i2cBuses()))
                            .source(sht(wiring).unit());
            case SERIAL_BOARD, SIMULATED -> throw noBus(wiring);
        };
    }

    private static IllegalArgumentException noBus(ProbeWiring wiring) {
        return new IllegalArgumentException("no bus: " + wiring);
    }

    private static ShtAddress sht(ProbeWiring wiring) {
        return ShtAddress.parse(wiring.address()).orElseThrow();
    }

    /**
     * What a bus's rounds begin with. Other than 1-Wire buses have no folder of their name there.
     */
    BusReader.RoundStart roundStart(String bus) {
        return new OneWireBulk(roots.oneWire(), bus);
    }

    /** A probe behind a board; its board is listened to once it is started. */
    Probe boardProbe(String address) {
        BoardAddress parsed = BoardAddress.parse(address).orElseThrow();
        return boards.computeIfAbsent(
                        parsed.port(), port -> new SerialBoard(port, roots.boardBaud(), clock))
                .probe(parsed.channel(), parsed.unit());
    }

    /** The boards that were asked for. */
    List<SerialBoard> boards() {
        return List.copyOf(boards.values());
    }

    private I2cBuses i2cBuses() {
        if (buses.isEmpty()) {
            buses = Optional.of(I2cBuses.ofThisMachine());
        }
        return buses.get();
    }

    /** The header's lines. */
    Gpio gpio() {
        if (gpio.isEmpty()) {
            gpio = Optional.of(Gpio.ofThisMachine(clock));
        }
        return gpio.get();
    }

    /** The header's lines, if anything asked for one. */
    Optional<Gpio> openedGpio() {
        return gpio;
    }
}
