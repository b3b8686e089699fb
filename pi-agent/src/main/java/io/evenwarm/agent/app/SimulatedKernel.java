package io.evenwarm.agent.app;

import io.evenwarm.agent.driver.sysfs.OneWireText;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.agent.plan.GuardPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.plant.SimulatedCabinet;
import io.evenwarm.agent.port.CabinetOutputs;
import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.Probe;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.Limits;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Temperature;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * A simulated cabinet behind files as Linux makes them: {@code w1_slave} files of three DS18B20 and
 * {@code brightness} files of four LED-class lines, in one folder, with a configuration for an
 * agent that uses them. It plays the kernel and the cabinet for an agent in another process: a line
 * keeps its level when that process dies, and the cabinet goes on accordingly.
 *
 * <p>Not like the kernel: a file can be read without waiting for a conversion, and a bus can't
 * hang.
 *
 * <p>One thread.
 */
final class SimulatedKernel {

    private static final String ONE_WIRE_FOLDER = "w1";
    private static final String LED_FOLDER = "leds";
    private static final double STALE_AFTER_SECONDS = 10;

    /** Position of each probe, and the address that its file has. */
    private static final Map<String, String> ADDRESSES = addresses();

    private final Path folder;
    private final SimulatedCabinet cabinet;
    private final List<Probe> probes;
    private final Sample[] written;
    private final List<Line> lines;

    /** One line's file, and the plant's side of it. */
    private record Line(Path brightness, Output output) {}

    /**
     * Makes the files: no probe has been read, all lines are off. Files from an earlier run are
     * taken over as they are, so that a line stays on until somebody drives it.
     *
     * @param folder made if need be
     * @param build the cabinet
     * @param seed of its noise
     * @throws IOException when a file can't be made
     */
    SimulatedKernel(Path folder, CabinetBuild build, long seed) throws IOException {
        this.folder = folder;
        this.cabinet = new SimulatedCabinet(build, plan(), seed);
        this.probes = cabinet.probes();
        this.written = new Sample[probes.size()];
        for (String address : ADDRESSES.values()) {
            Files.createDirectories(folder.resolve(ONE_WIRE_FOLDER).resolve(address));
        }
        CabinetOutputs outputs = cabinet.outputs();
        List<Line> made = new ArrayList<>();
        made.add(line("heater", outputs.heater()));
        outputs.cutOffRelay().ifPresent(output -> made.add(line("cut-off", output)));
        outputs.fan().ifPresent(output -> made.add(line("fan", output)));
        outputs.buzzer().ifPresent(output -> made.add(line("buzzer", output)));
        this.lines = List.copyOf(made);
        for (Line line : lines) {
            if (Files.notExists(line.brightness())) {
                Files.createDirectories(folderOf(line.brightness()));
                Files.writeString(line.brightness(), "0\n");
            }
        }
        writeConfiguration();
    }

    private static Map<String, String> addresses() {
        Map<String, String> addresses = new LinkedHashMap<>();
        addresses.put("top", "28-000000000001");
        addresses.put("middle", "28-000000000002");
        addresses.put("bottom", "28-000000000003");
        return addresses;
    }

    private Line line(String name, Output output) {
        return new Line(folder.resolve(LED_FOLDER).resolve(name).resolve("brightness"), output);
    }

    private static Path folderOf(Path file) {
        Path parent = file.getParent();
        return parent == null ? Path.of("") : parent;
    }

    private static CabinetPlan plan() {
        List<ProbePlan> probes = new ArrayList<>();
        for (String position : ADDRESSES.keySet()) {
            probes.add(
                    new ProbePlan(
                            new ProbeName(position),
                            ProbePlace.of(position),
                            false,
                            0,
                            STALE_AFTER_SECONDS,
                            ProbePlan.Sensor.DS18B20));
        }
        Temperature setPoint = new Temperature(31.5);
        Limits limits =
                new Limits(
                        new Temperature(30.5),
                        new Temperature(32.5),
                        new Temperature(33.5),
                        new Temperature(34.5));
        return new CabinetPlan(
                new CabinetName("paper"),
                probes,
                setPoint,
                limits,
                ControlPlan.defaults(),
                GuardPlan.defaults(),
                true,
                true);
    }

    /** The configuration of an agent for this cabinet. */
    Path configuration() {
        return folder.resolve("agent.toml");
    }

    private void writeConfiguration() throws IOException {
        if (Files.exists(configuration())) {
            return;
        }
        StringBuilder text =
                new StringBuilder(
                        """
                        # Made by "evenwarm-agent simulate": a cabinet that is not there, behind files.
                        [agent]
                        name = "paper"
                        state_folder = "state"

                        [sensors]
                        one_wire_folder = "%s"
                        led_folder = "%s"

                        [[cabinet]]
                        name = "paper"
                        set_point_celsius = 31.5
                        """
                                .formatted(ONE_WIRE_FOLDER, LED_FOLDER));
        ADDRESSES.forEach(
                (position, address) ->
                        text.append(
                                """

                                  [[cabinet.probe]]
                                  name = "%s"
                                  position = "%s"
                                  driver = "one-wire"
                                  address = "%s"
                                """
                                        .formatted(position, position, address)));
        for (String[] output :
                new String[][] {
                    {"heater", "heater"},
                    {"cut_off_relay", "cut-off"},
                    {"fan", "fan"},
                    {"buzzer", "buzzer"}
                }) {
            text.append(
                    """

                      [cabinet.%s]
                      driver = "led"
                      line = "%s"
                    """
                            .formatted(output[0], output[1]));
        }
        replace(configuration(), text.toString());
    }

    /**
     * Takes the lines' levels in, brings the cabinet up to a moment, and writes what its probes
     * show since.
     *
     * @param nowNanos monotonic time
     * @throws IOException when a file can't be read or written
     */
    void step(long nowNanos) throws IOException {
        for (Line line : lines) {
            line.output().drive(isOn(line.brightness()));
        }
        cabinet.step(nowNanos);
        int index = 0;
        for (String address : ADDRESSES.values()) {
            Sample newest = probes.get(index).newest();
            if (newest != written[index]) {
                written[index] = newest;
                write(folder.resolve(ONE_WIRE_FOLDER).resolve(address), newest);
            }
            index++;
        }
    }

    private static boolean isOn(Path brightness) throws IOException {
        String text = Files.readString(brightness, StandardCharsets.US_ASCII).strip();
        return !text.isEmpty() && !text.equals("0");
    }

    private static void write(Path device, Sample sample) throws IOException {
        Path file = device.resolve("w1_slave");
        if (sample instanceof Sample.Measured measured) {
            replace(file, OneWireText.good(measured.value()));
        } else if (sample instanceof Sample.Failed failed) {
            if (failed.why() == Reading.Doubt.NOT_THERE) {
                Files.deleteIfExists(file);
            } else {
                replace(file, OneWireText.wrongChecksum(0));
            }
        }
    }

    /** No reader ever sees half a file, as none does of the kernel's. */
    private static void replace(Path file, String text) throws IOException {
        Path unfinished = file.resolveSibling(file.getFileName() + ".new");
        Files.writeString(unfinished, text, StandardCharsets.UTF_8);
        Files.move(unfinished, file, StandardCopyOption.ATOMIC_MOVE);
    }
}
