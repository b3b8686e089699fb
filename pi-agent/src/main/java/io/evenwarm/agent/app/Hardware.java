package io.evenwarm.agent.app;

import io.evenwarm.agent.app.AgentConfiguration.Roots;
import io.evenwarm.agent.app.CabinetSettings.InputWiring;
import io.evenwarm.agent.app.CabinetSettings.InputWirings;
import io.evenwarm.agent.app.CabinetSettings.OutputWiring;
import io.evenwarm.agent.app.CabinetSettings.ProbeDriver;
import io.evenwarm.agent.app.CabinetSettings.ProbeWiring;
import io.evenwarm.agent.driver.BusReader;
import io.evenwarm.agent.driver.PulsedLine;
import io.evenwarm.agent.driver.pi4j.Gpio;
import io.evenwarm.agent.driver.serial.SerialBoard;
import io.evenwarm.agent.driver.sysfs.LedLine;
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
    private final List<LiveFaults> simulated;
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
            List<LiveFaults> simulated,
            SharedDevices devices) {
        this.cabinets = List.copyOf(cabinets);
        this.readers = List.copyOf(readers);
        this.simulated = List.copyOf(simulated);
        this.gpio = devices.openedGpio();
        this.boards = devices.boards();
    }

    /** Touches nothing yet: no sensor is read and no line is driven. */
    static Hardware of(AgentConfiguration configuration, MonotonicClock clock) {
        return of(configuration, clock, HeatPermission.ofThisProcess());
    }

    /** As the other one, with the heaters of cabinets that may not be heated off for good. */
    static Hardware of(
            AgentConfiguration configuration, MonotonicClock clock, HeatPermission permission) {
        SharedDevices devices = new SharedDevices(configuration.roots(), clock);
        Map<String, List<BusReader.Sensor>> buses = new LinkedHashMap<>();
        Map<ProbeWiring, Place> places = new LinkedHashMap<>();
        for (CabinetSettings cabinet : configuration.cabinets()) {
            for (int i = 0; !cabinet.isSimulated() && i < cabinet.probes().size(); i++) {
                ProbeWiring wiring = cabinet.probes().get(i);
                if (wiring.driver() == ProbeDriver.SERIAL_BOARD) {
                    continue;
                }
                String bus = devices.busName(wiring);
                List<BusReader.Sensor> sensors =
                        buses.computeIfAbsent(bus, name -> new ArrayList<>());
                places.put(wiring, new Place(bus, sensors.size()));
                sensors.add(sensor(cabinet, i, devices));
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
                                        devices.roundStart(name),
                                        ROUND_NANOS,
                                        clock)));
        List<Cabinet> cabinets = new ArrayList<>();
        List<LiveFaults> simulated = new ArrayList<>();
        for (CabinetSettings cabinet : configuration.cabinets()) {
            if (cabinet.simulated().isPresent()) {
                SimulatedCabinet plant =
                        new SimulatedCabinet(
                                cabinet.simulated().get(),
                                cabinet.plan(),
                                configuration.simulation().seed() + SEED_STEP * simulated.size());
                simulated.add(new LiveFaults(plant, cabinet.faults()));
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
                                permitted(
                                        cabinet,
                                        outputs(cabinet, configuration.roots(), devices),
                                        permission.refusals(cabinet, configuration.roots().led())),
                                inputs(cabinet.inputs(), devices)));
            }
        }
        return new Hardware(cabinets, List.copyOf(readers.values()), simulated, devices);
    }

    /** Where a probe is read. */
    private record Place(String bus, int index) {}

    private static BusReader.Sensor sensor(
            CabinetSettings cabinet, int index, SharedDevices devices) {
        String label =
                "cabinet "
                        + cabinet.plan().name()
                        + ", probe "
                        + cabinet.plan().probes().get(index).name();
        return new BusReader.Sensor(label, devices.source(cabinet.probes().get(index)));
    }

    private static CabinetOutputs outputs(
            CabinetSettings cabinet, Roots roots, SharedDevices devices) {
        return new CabinetOutputs(
                line(cabinet.heater(), roots, devices),
                cabinet.cutOffRelay().map(wiring -> line(wiring, roots, devices)),
                cabinet.fan().map(wiring -> line(wiring, roots, devices)),
                cabinet.buzzer().map(wiring -> line(wiring, roots, devices)),
                cabinet.humidifier().map(wiring -> line(wiring, roots, devices)),
                cabinet.vent().map(wiring -> line(wiring, roots, devices)));
    }

    private static CabinetOutputs permitted(
            CabinetSettings cabinet, CabinetOutputs outputs, List<String> refusals) {
        if (refusals.isEmpty()) {
            return outputs;
        }
        LOG.log(
                Level.ERROR,
                "cabinet {0} WILL NOT BE HEATED: {1}",
                cabinet.plan().name(),
                String.join("; and ", refusals));
        return new CabinetOutputs(
                new HeatPermission.OffOnly(outputs.heater(), refusals),
                outputs.cutOffRelay(),
                outputs.fan(),
                outputs.buzzer(),
                outputs.humidifier(),
                outputs.vent());
    }

    private static Output line(OutputWiring wiring, Roots roots, SharedDevices devices) {
        Output line =
                switch (wiring.driver()) {
                    case LED -> new LedLine(roots.led(), wiring.line());
                    case GPIO -> devices.gpio().output(wiring.line(), wiring.activeLow());
                    case SIMULATED -> throw new IllegalArgumentException("no line: " + wiring);
                };
        return wiring.pulsed() ? new PulsedLine(line) : line;
    }

    private static CabinetInputs inputs(InputWirings inputs, SharedDevices devices) {
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

    private static Contact contact(InputWiring wiring, boolean holdsPress, SharedDevices devices) {
        return devices.gpio()
                .contact(wiring.line(), wiring.closedHigh(), wiring.pull(), holdsPress);
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
            Output line = output instanceof HeatPermission.OffOnly off ? off.line() : output;
            line.drive(false);
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
        for (LiveFaults cabinet : simulated) {
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
