package io.evenwarm.agent.app;

import io.evenwarm.agent.app.AgentConfiguration.Roots;
import io.evenwarm.agent.app.CabinetSettings.OutputWiring;
import io.evenwarm.agent.app.CabinetSettings.ProbeWiring;
import io.evenwarm.agent.driver.BusReader;
import io.evenwarm.agent.driver.SampleSource;
import io.evenwarm.agent.driver.sysfs.HwmonChannel;
import io.evenwarm.agent.driver.sysfs.IioChannel;
import io.evenwarm.agent.driver.sysfs.LedLine;
import io.evenwarm.agent.driver.sysfs.OneWireThermometer;
import io.evenwarm.agent.plant.SimulatedCabinet;
import io.evenwarm.agent.port.CabinetInputs;
import io.evenwarm.agent.port.CabinetOutputs;
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
    private final List<SimulatedCabinet> simulated;

    /**
     * One cabinet's probes and lines.
     *
     * @param settings what was configured
     * @param probes in the plan's order
     * @param outputs its lines
     * @param inputs what it tells beside its probes
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
            List<Cabinet> cabinets, List<BusReader> readers, List<SimulatedCabinet> simulated) {
        this.cabinets = List.copyOf(cabinets);
        this.readers = List.copyOf(readers);
        this.simulated = List.copyOf(simulated);
    }

    /** Touches nothing yet: no sensor is read and no line is driven. */
    static Hardware of(AgentConfiguration configuration, MonotonicClock clock) {
        Map<String, List<BusReader.Sensor>> buses = new LinkedHashMap<>();
        Map<ProbeWiring, Place> places = new LinkedHashMap<>();
        for (CabinetSettings cabinet : configuration.cabinets()) {
            for (int i = 0; !cabinet.isSimulated() && i < cabinet.probes().size(); i++) {
                ProbeWiring wiring = cabinet.probes().get(i);
                String bus = busName(wiring, configuration.roots());
                List<BusReader.Sensor> sensors =
                        buses.computeIfAbsent(bus, name -> new ArrayList<>());
                places.put(wiring, new Place(bus, sensors.size()));
                sensors.add(sensor(cabinet, i, configuration.roots()));
            }
        }
        Map<String, BusReader> readers = new LinkedHashMap<>();
        buses.forEach(
                (name, sensors) ->
                        readers.put(name, new BusReader(name, sensors, ROUND_NANOS, clock)));
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
                    Place place = Objects.requireNonNull(places.get(wiring));
                    probes.add(
                            Objects.requireNonNull(readers.get(place.bus())).probe(place.index()));
                }
                cabinets.add(
                        new Cabinet(
                                cabinet,
                                probes,
                                outputs(cabinet, configuration.roots()),
                                CabinetInputs.NONE));
            }
        }
        return new Hardware(cabinets, List.copyOf(readers.values()), simulated);
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
            case SIMULATED -> throw new IllegalArgumentException("no bus: " + wiring);
        };
    }

    private static BusReader.Sensor sensor(CabinetSettings cabinet, int index, Roots roots) {
        ProbeWiring wiring = cabinet.probes().get(index);
        SampleSource source =
                switch (wiring.driver()) {
                    case ONE_WIRE -> new OneWireThermometer(roots.oneWire(), wiring.address());
                    case HWMON -> new HwmonChannel(roots.hwmon(), wiring.address());
                    case IIO -> new IioChannel(roots.iio(), wiring.address());
                    case SIMULATED -> throw new IllegalArgumentException("no bus: " + wiring);
                };
        String label =
                "cabinet "
                        + cabinet.plan().name()
                        + ", probe "
                        + cabinet.plan().probes().get(index).name();
        return new BusReader.Sensor(label, source);
    }

    private static CabinetOutputs outputs(CabinetSettings cabinet, Roots roots) {
        return new CabinetOutputs(
                line(cabinet.heater(), roots),
                cabinet.cutOffRelay().map(wiring -> line(wiring, roots)),
                cabinet.fan().map(wiring -> line(wiring, roots)),
                cabinet.buzzer().map(wiring -> line(wiring, roots)));
    }

    private static Output line(OutputWiring wiring, Roots roots) {
        return new LedLine(roots.led(), wiring.line());
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
                            outputs.buzzer())
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

    /** Begins to read the real sensors. */
    void startReaders() {
        readers.forEach(BusReader::start);
    }

    /** Brings the simulated cabinets up to a moment. Called by the control thread. */
    void stepSimulated(long nowNanos) {
        for (SimulatedCabinet cabinet : simulated) {
            cabinet.step(nowNanos);
        }
    }

    /** Ends the readers. The lines belong to their cabinets' loops by then. */
    @Override
    public void close() {
        readers.forEach(BusReader::close);
    }
}
