package io.evenwarm.agent.app;

import io.evenwarm.agent.app.AgentConfiguration.Roots;
import io.evenwarm.agent.app.CabinetSettings.InputWiring;
import io.evenwarm.agent.app.CabinetSettings.InputWirings;
import io.evenwarm.agent.app.CabinetSettings.OutputWiring;
import io.evenwarm.agent.app.CabinetSettings.ProbeDriver;
import io.evenwarm.agent.app.CabinetSettings.ProbeWiring;
import io.evenwarm.agent.driver.BusReader;
import io.evenwarm.agent.driver.PulsedLine;
import io.evenwarm.agent.driver.SampleSource;
import io.evenwarm.agent.driver.pi4j.Gpio;
import io.evenwarm.agent.driver.pi4j.I2cBuses;
import io.evenwarm.agent.driver.pi4j.ShtAddress;
import io.evenwarm.agent.driver.pi4j.ShtSensor;
import io.evenwarm.agent.driver.serial.BoardAddress;
import io.evenwarm.agent.driver.serial.SerialBoard;
import io.evenwarm.agent.driver.sysfs.HwmonChannel;
import io.evenwarm.agent.driver.sysfs.IioChannel;
import io.evenwarm.agent.driver.sysfs.LedLine;
import io.evenwarm.agent.driver.sysfs.OneWireBulk;
import io.evenwarm.agent.driver.sysfs.OneWireThermometer;
import io.evenwarm.agent.plant.SimulatedCabinet;
import io.evenwarm.agent.port.CabinetInputs;
import io.evenwarm.agent.port.CabinetOutputs;
import io.evenwarm.agent.port.Contact;
import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.OutputException;
import io.evenwarm.agent.port.Probe;
import io.evenwarm.clock.MonotonicClock;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;

/** All probes and lines of a configuration, real and simulated. */
final class Hardware implements AutoCloseable {

    private static final Logger LOG = System.getLogger(Hardware.class.getName());
    private static final long ROUND_NANOS = TimeUnit.SECONDS.toNanos(1);

    /** Any odd number does: it keeps the cabinets of one seed from being the same run. */
    private static final long SEED_STEP = 1_000_003;

    private final List<Cabinet> cabinets;
    private final List<BusReader> readers;
    private final List<SimulatedCabinet> simulated;
    private final Optional<Gpio> gpio;
    private final List<SerialBoard> boards;

    /**
     * One cabinet's probes and lines.
     *
     * @param settings what was configured
     * @param probes in the plan's order
     * @param outputs its lines
     * @param inputs its switches, buttons, tachometer
     */
    record Cabinet(
            CabinetSettings settings,
            List<Probe> probes,
            CabinetOutputs outputs,
            CabinetInputs inputs) {
        Cabinet {
            probes = List.copyOf(probes);
        }
    }

    private Hardware(
            List<Cabinet> cabinets,
            List<BusReader> readers,
            List<SimulatedCabinet> simulated,
            Devices devices) {
        this.cabinets = List.copyOf(cabinets);
        this.readers = List.copyOf(readers);
        this.simulated = List.copyOf(simulated);
        this.gpio = devices.gpio;
        this.boards = List.copyOf(devices.boards.values());
    }

    /** Touches nothing yet: no sensor is read and no line is driven. */
    static Hardware of(AgentConfiguration configuration, MonotonicClock clock) {
        Devices devices = new Devices(clock, configuration.roots().boardBaud());
        Map<String, List<BusReader.Sensor>> buses = new LinkedHashMap<>();
        Map<ProbeWiring, Place> places = new LinkedHashMap<>();
        for (CabinetSettings cabinet : configuration.cabinets()) {
            for (int i = 0; !cabinet.isSimulated() && i < cabinet.probes().size(); i++) {
                ProbeWiring wiring = cabinet.probes().get(i);
                if (wiring.driver() == ProbeDriver.SERIAL_BOARD) {
                    continue;
                }
                String bus = busName(wiring, configuration.roots());
                List<BusReader.Sensor> sensors =
                        buses.computeIfAbsent(bus, name -> new ArrayList<>());
                places.put(wiring, new Place(bus, sensors.size()));
                sensors.add(sensor(cabinet, i, configuration.roots(), devices));
            }
        }
        Map<String, BusReader> readers = new LinkedHashMap<>();
        buses.forEach(
                (name, sensors) ->
                        readers.put(
                                name,
                                new BusReader(
                                        name,
                                        sensors,
                                        roundStart(name, configuration.roots()),
                                        ROUND_NANOS,
                                        clock)));
        List<Cabinet> cabinets = new ArrayList<>();
        List<SimulatedCabinet> simulated = new ArrayList<>();
        for (CabinetSettings cabinet : configuration.cabinets()) {
            if (cabinet.simulated().isPresent()) {
                SimulatedCabinet plant =
                        new SimulatedCabinet(
                                cabinet.simulated().get(),
                                cabinet.plan(),
                                configuration.simulation().seed() + SEED_STEP * simulated.size());
                simulated.add(plant);
                cabinets.add(new Cabinet(cabinet, plant.probes(), plant.outputs(), plant.inputs()));
            } else {
                List<Probe> probes = new ArrayList<>();
                for (ProbeWiring wiring : cabinet.probes()) {
                    if (wiring.driver() == ProbeDriver.SERIAL_BOARD) {
                        probes.add(devices.boardProbe(wiring.address()));
                        continue;
                    }
                    Place place = Objects.requireNonNull(places.get(wiring));
                    probes.add(
                            Objects.requireNonNull(readers.get(place.bus())).probe(place.index()));
                }
                cabinets.add(
                        new Cabinet(
                                cabinet,
                                probes,
                                outputs(cabinet, configuration.roots(), devices),
                                inputs(cabinet.inputs(), devices)));
            }
        }
        return new Hardware(cabinets, List.copyOf(readers.values()), simulated, devices);
    }

    /** Other buses have no folder of their name there, and so nothing to begin with. */
    private static BusReader.RoundStart roundStart(String bus, Roots roots) {
        return new OneWireBulk(roots.oneWire(), bus);
    }

    /** Where a probe is read. */
    private record Place(String bus, int index) {}

    /** Probes of one bus wait for each other anyway; a device that hangs must hold up no other. */
    private static String busName(ProbeWiring wiring, Roots roots) {
        String address = wiring.address();
        return switch (wiring.driver()) {
            case ONE_WIRE -> OneWireThermometer.busOf(roots.oneWire(), address);
            case HWMON, IIO ->
                    wiring.driver().word() + " " + address.substring(0, address.indexOf('/'));
            case I2C -> sht(wiring).device().busName();
            case SERIAL_BOARD, SIMULATED -> throw new IllegalArgumentException("no bus: " + wiring);
        };
    }

    private static ShtAddress sht(ProbeWiring wiring) {
        return ShtAddress.parse(wiring.address()).orElseThrow();
    }

    private static BusReader.Sensor sensor(
            CabinetSettings cabinet, int index, Roots roots, Devices devices) {
        ProbeWiring wiring = cabinet.probes().get(index);
        SampleSource source =
                switch (wiring.driver()) {
                    case ONE_WIRE -> new OneWireThermometer(roots.oneWire(), wiring.address());
                    case HWMON -> new HwmonChannel(roots.hwmon(), wiring.address());
                    case IIO -> new IioChannel(roots.iio(), wiring.address());
                    case I2C -> devices.sht(sht(wiring).device()).source(sht(wiring).unit());
                    case SERIAL_BOARD, SIMULATED ->
                            throw new IllegalArgumentException("no bus: " + wiring);
                };
        String label =
                "cabinet "
                        + cabinet.plan().name()
                        + ", probe "
                        + cabinet.plan().probes().get(index).name();
        return new BusReader.Sensor(label, source);
    }

    private static CabinetOutputs outputs(CabinetSettings cabinet, Roots roots, Devices devices) {
        return new CabinetOutputs(
                line(cabinet.heater(), roots, devices),
                cabinet.cutOffRelay().map(wiring -> line(wiring, roots, devices)),
                cabinet.fan().map(wiring -> line(wiring, roots, devices)),
                cabinet.buzzer().map(wiring -> line(wiring, roots, devices)),
                cabinet.humidifier().map(wiring -> line(wiring, roots, devices)),
                cabinet.vent().map(wiring -> line(wiring, roots, devices)));
    }

    private static Output line(OutputWiring wiring, Roots roots, Devices devices) {
        Output line =
                switch (wiring.driver()) {
                    case LED -> new LedLine(roots.led(), wiring.line());
                    case GPIO -> devices.gpio().output(wiring.line(), wiring.activeLow());
                    case SIMULATED -> throw new IllegalArgumentException("no line: " + wiring);
                };
        return wiring.pulsed() ? new PulsedLine(line) : line;
    }

    private static CabinetInputs inputs(InputWirings inputs, Devices devices) {
        return new CabinetInputs(
                inputs.door().map(wiring -> contact(wiring, false, devices)),
                inputs.fanTachometer()
                        .map(
                                wiring ->
                                        devices.gpio()
                                                .tachometer(
                                                        wiring.line(),
                                                        wiring.pull(),
                                                        wiring.pulsesPerTurn())),
                inputs.silenceButton().map(wiring -> contact(wiring, true, devices)),
                // Must be held for seconds anyway: a touch between two ticks is no press.
                inputs.resetButton().map(wiring -> contact(wiring, false, devices)));
    }

    private static Contact contact(InputWiring wiring, boolean holdsPress, Devices devices) {
        return devices.gpio()
                .contact(wiring.line(), wiring.closedHigh(), wiring.pull(), holdsPress);
    }

    /** Devices that several probes or lines share; each made when the first one asks for it. */
    private static final class Devices {
        private final MonotonicClock clock;
        private final int boardBaud;
        private final Map<String, SerialBoard> boards = new LinkedHashMap<>();
        private final Map<ShtAddress.Device, ShtSensor> shts = new HashMap<>();
        private Optional<I2cBuses> buses = Optional.empty();
        private Optional<Gpio> gpio = Optional.empty();

        Devices(MonotonicClock clock, int boardBaud) {
            this.clock = clock;
            this.boardBaud = boardBaud;
        }

        ShtSensor sht(ShtAddress.Device device) {
            return shts.computeIfAbsent(device, absent -> new ShtSensor(device, buses()));
        }

        Probe boardProbe(String address) {
            BoardAddress parsed = BoardAddress.parse(address).orElseThrow();
            return boards.computeIfAbsent(
                            parsed.port(), port -> new SerialBoard(port, boardBaud, clock))
                    .probe(parsed.channel(), parsed.unit());
        }

        private I2cBuses buses() {
            if (buses.isEmpty()) {
                buses = Optional.of(I2cBuses.ofThisMachine());
            }
            return buses.get();
        }

        Gpio gpio() {
            if (gpio.isEmpty()) {
                gpio = Optional.of(Gpio.ofThisMachine(clock));
            }
            return gpio.get();
        }
    }

    /** In the configuration's order. */
    List<Cabinet> cabinets() {
        return cabinets;
    }

    /** Drives every line off; what can't be driven is told and does not keep the next from it. */
    void driveAllOff() {
        for (Cabinet cabinet : cabinets) {
            CabinetOutputs outputs = cabinet.outputs();
            Stream.of(
                            Optional.of(outputs.heater()),
                            outputs.cutOffRelay(),
                            outputs.fan(),
                            outputs.buzzer(),
                            outputs.humidifier(),
                            outputs.vent())
                    .flatMap(Optional::stream)
                    .forEach(output -> driveOff(cabinet, output));
        }
    }

    private static void driveOff(Cabinet cabinet, Output output) {
        try {
            output.drive(false);
        } catch (OutputException e) {
            LOG.log(
                    Level.ERROR,
                    "cabinet {0}: a line could not be driven off: {1}",
                    cabinet.settings().plan().name(),
                    e.getMessage());
        }
    }

    /** Begins to read the real sensors and inputs. */
    void startReaders() {
        readers.forEach(BusReader::start);
        boards.forEach(SerialBoard::start);
        gpio.ifPresent(Gpio::openInputs);
    }

    /** Brings the simulated cabinets up to a moment. Called by the control thread. */
    void stepSimulated(long nowNanos) {
        for (SimulatedCabinet cabinet : simulated) {
            cabinet.step(nowNanos);
        }
    }

    /** Ends the readers and lets go of GPIO lines; the cabinets' loops have driven them off. */
    @Override
    public void close() {
        readers.forEach(BusReader::close);
        boards.forEach(SerialBoard::close);
        gpio.ifPresent(Gpio::close);
    }
}
