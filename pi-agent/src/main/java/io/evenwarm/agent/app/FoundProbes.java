package io.evenwarm.agent.app;

import io.evenwarm.agent.app.AgentConfiguration.Roots;
import io.evenwarm.agent.app.CabinetSettings.ProbeDriver;
import io.evenwarm.agent.app.CabinetSettings.ProbeWiring;
import io.evenwarm.agent.driver.BusReader;
import io.evenwarm.agent.driver.SampleSource;
import io.evenwarm.agent.driver.pi4j.ShtAddress;
import io.evenwarm.agent.driver.serial.SerialBoard;
import io.evenwarm.agent.driver.sysfs.SensorSearch;
import io.evenwarm.agent.port.Probe;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.message.Reading;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeSet;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;

/**
 * Every probe that is configured, and every one that is found beside them, read by the readers that
 * the agent would use. For commands that look at the hardware without an agent.
 *
 * <p>On I²C only those addresses are asked at which an SHT3x or SHT4x can be, and only on bus 1
 * (the header's) and on buses that the configuration names: elsewhere other chips may be at home.
 */
final class FoundProbes implements AutoCloseable {

    private static final long ROUND_NANOS = TimeUnit.SECONDS.toNanos(1);
    private static final long POLL_MILLIS = 20;
    private static final int HEADER_BUS = 1;

    /**
     * To an SHT4x the first octet of an SHT3x's command means: heat yourself for a moment (from
     * memory of the SHT4x datasheet). An SHT3x ignores an SHT4x's command.
     */
    private static final String ASKED_FIRST = "sht4x";

    private final MonotonicClock clock;
    private final List<Entry> entries;
    private final List<BusReader> readers;
    private final List<SerialBoard> boards;

    /**
     * A probe.
     *
     * @param wiring how it is reached
     * @param bus what it shares with others
     * @param user cabinet and name in the configuration; empty for one that nothing uses
     * @param isGuess whether nothing but its address is known: it counts only once it answered
     * @param probe its newest sample
     */
    record Entry(
            ProbeWiring wiring, String bus, Optional<User> user, boolean isGuess, Probe probe) {

        /** Whether there is such a probe, as far as is known by now. */
        boolean isThere() {
            return !isGuess || probe.newest() instanceof Sample.Measured;
        }
    }

    /** Who uses a probe. */
    record User(String cabinet, String probe) {
        @Override
        public String toString() {
            return cabinet + " / " + probe;
        }
    }

    private record Place(ProbeWiring wiring, String bus, Optional<User> user, boolean isGuess) {}

    private FoundProbes(
            MonotonicClock clock,
            List<Entry> entries,
            List<BusReader> readers,
            List<SerialBoard> boards) {
        this.clock = clock;
        this.entries = List.copyOf(entries);
        this.readers = List.copyOf(readers);
        this.boards = List.copyOf(boards);
    }

    /** Looks for them and begins to read. Simulated probes are left out. */
    static FoundProbes start(AgentConfiguration configuration, MonotonicClock clock) {
        return start(configuration.roots(), configured(configuration), clock);
    }

    /** As the other one, for a configuration that may have faults yet. */
    static FoundProbes start(Roots roots, Map<ProbeWiring, User> configured, MonotonicClock clock) {
        SharedDevices devices = new SharedDevices(roots, clock);
        Map<ProbeWiring, Place> places = new LinkedHashMap<>();
        configured.forEach(
                (wiring, user) ->
                        places.put(
                                wiring,
                                new Place(
                                        wiring,
                                        busName(wiring, devices),
                                        Optional.of(user),
                                        false)));
        for (ProbeWiring wiring : found(roots)) {
            places.putIfAbsent(
                    wiring, new Place(wiring, devices.busName(wiring), Optional.empty(), false));
        }
        for (ProbeWiring wiring : guesses(places.keySet())) {
            places.putIfAbsent(
                    wiring, new Place(wiring, devices.busName(wiring), Optional.empty(), true));
        }
        FoundProbes found = read(List.copyOf(places.values()), devices, clock);
        found.readers.forEach(BusReader::start);
        found.boards.forEach(SerialBoard::start);
        return found;
    }

    private static FoundProbes read(
            List<Place> places, SharedDevices devices, MonotonicClock clock) {
        Map<String, List<Place>> byBus = new LinkedHashMap<>();
        for (Place place : places) {
            if (place.wiring().driver() != ProbeDriver.SERIAL_BOARD) {
                byBus.computeIfAbsent(place.bus(), bus -> new ArrayList<>()).add(place);
            }
        }
        Map<ProbeWiring, Probe> probes = new ConcurrentHashMap<>();
        List<BusReader> readers = new ArrayList<>();
        byBus.forEach(
                (bus, onBus) -> {
                    List<BusReader.Sensor> sensors =
                            onBus.stream()
                                    .map(
                                            place ->
                                                    new BusReader.Sensor(
                                                            place.wiring().address(),
                                                            source(place, devices, probes)))
                                    .toList();
                    BusReader reader =
                            new BusReader(
                                    bus, sensors, devices.roundStart(bus), ROUND_NANOS, clock);
                    readers.add(reader);
                    for (int i = 0; i < onBus.size(); i++) {
                        probes.put(onBus.get(i).wiring(), reader.probe(i));
                    }
                });
        List<Entry> entries = new ArrayList<>();
        for (Place place : places) {
            Probe probe =
                    place.wiring().driver() == ProbeDriver.SERIAL_BOARD
                            ? devices.boardProbe(place.wiring().address())
                            : Objects.requireNonNull(probes.get(place.wiring()));
            entries.add(
                    new Entry(place.wiring(), place.bus(), place.user(), place.isGuess(), probe));
        }
        return new FoundProbes(clock, entries, readers, devices.boards());
    }

    /** A guess at an address where another family has answered is not followed up. */
    private static SampleSource source(
            Place place, SharedDevices devices, Map<ProbeWiring, Probe> probes) {
        SampleSource source = devices.source(place.wiring());
        String address = place.wiring().address();
        if (!place.isGuess() || address.startsWith(ASKED_FIRST)) {
            return source;
        }
        ProbeWiring other =
                new ProbeWiring(
                        ProbeDriver.I2C, ASKED_FIRST + address.substring(address.indexOf('@')));
        return atNanos -> {
            Probe there = probes.get(other);
            return there != null && there.newest() instanceof Sample.Measured
                    ? new Sample.Failed(
                            Reading.Doubt.NOT_THERE, "at " + address + " is an SHT4x", atNanos)
                    : source.read(atNanos);
        };
    }

    private static String busName(ProbeWiring wiring, SharedDevices devices) {
        return wiring.driver() == ProbeDriver.SERIAL_BOARD
                ? wiring.address().substring(0, wiring.address().indexOf('@'))
                : devices.busName(wiring);
    }

    private static Map<ProbeWiring, User> configured(AgentConfiguration configuration) {
        Map<ProbeWiring, User> configured = new LinkedHashMap<>();
        for (CabinetSettings cabinet : configuration.cabinets()) {
            for (int i = 0; !cabinet.isSimulated() && i < cabinet.probes().size(); i++) {
                configured.put(
                        cabinet.probes().get(i),
                        new User(
                                cabinet.plan().name().value(),
                                cabinet.plan().probes().get(i).name().value()));
            }
        }
        return configured;
    }

    private static List<ProbeWiring> found(Roots roots) {
        List<ProbeWiring> found = new ArrayList<>();
        SensorSearch.oneWire(roots.oneWire())
                .forEach(address -> found.add(new ProbeWiring(ProbeDriver.ONE_WIRE, address)));
        SensorSearch.hwmon(roots.hwmon())
                .forEach(address -> found.add(new ProbeWiring(ProbeDriver.HWMON, address)));
        SensorSearch.iio(roots.iio())
                .forEach(address -> found.add(new ProbeWiring(ProbeDriver.IIO, address)));
        return found;
    }

    private static List<ProbeWiring> guesses(Iterable<ProbeWiring> configured) {
        TreeSet<Integer> buses = new TreeSet<>();
        if (Files.exists(Path.of("/dev/i2c-" + HEADER_BUS))) {
            buses.add(HEADER_BUS);
        }
        List<String> taken = new ArrayList<>();
        for (ProbeWiring wiring : configured) {
            ShtAddress.parse(wiring.address())
                    .map(ShtAddress::device)
                    .ifPresent(
                            device -> {
                                buses.add(device.bus());
                                taken.add(device.bus() + " " + device.address());
                            });
        }
        List<ProbeWiring> guesses = new ArrayList<>();
        for (int bus : buses) {
            for (int address = 0x44; address <= 0x46; address++) {
                if (taken.contains(bus + " " + address)) {
                    continue;
                }
                for (String word : List.of(ASKED_FIRST, "sht3x")) {
                    for (String value : List.of("temp", "humidity")) {
                        guesses.add(
                                new ProbeWiring(
                                        ProbeDriver.I2C,
                                        "%s@%d-%04x/%s".formatted(word, bus, address, value)));
                    }
                }
            }
        }
        return guesses;
    }

    /** All of them, those of the configuration first. */
    List<Entry> entries() {
        return entries;
    }

    /**
     * Waits until each was read once, or the time is over: a bus that hangs must not hold up the
     * answer.
     */
    void awaitFirst(double seconds) {
        long endNanos = clock.nanos() + (long) (seconds * 1e9);
        while (clock.nanos() < endNanos
                && entries.stream()
                        .anyMatch(entry -> entry.probe().newest() instanceof Sample.NotYet)) {
            pause(POLL_MILLIS);
        }
    }

    /** Waits. */
    static void pause(long millis) {
        try {
            TimeUnit.MILLISECONDS.sleep(millis);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    @Override
    public void close() {
        readers.forEach(BusReader::close);
        boards.forEach(SerialBoard::close);
    }
}
