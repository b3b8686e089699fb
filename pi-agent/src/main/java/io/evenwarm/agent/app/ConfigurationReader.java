package io.evenwarm.agent.app;

import io.evenwarm.agent.app.AgentConfiguration.Announce;
import io.evenwarm.agent.app.AgentConfiguration.JournalPlan;
import io.evenwarm.agent.app.AgentConfiguration.Roots;
import io.evenwarm.agent.app.AgentConfiguration.SerialSettings;
import io.evenwarm.agent.app.AgentConfiguration.SimulationSettings;
import io.evenwarm.agent.app.AgentConfiguration.TlsSettings;
import io.evenwarm.agent.app.AgentConfiguration.WatchdogPlan;
import io.evenwarm.link.KeyPin;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.Role;
import io.evenwarm.settings.HostAndPort;
import io.evenwarm.settings.NumberRange;
import io.evenwarm.settings.SettingsFaults;
import io.evenwarm.settings.SettingsResult;
import io.evenwarm.settings.TomlFile;
import io.evenwarm.settings.TomlSection;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Reads a configuration file and names all its faults at once. {@code docs/configuration.md} lists
 * the keys.
 */
final class ConfigurationReader {

    static final String NAME_FORM =
            "1 to 64 letters, digits, spaces or . _ - that begin with a letter or digit";

    static final String USUAL_STATE_FOLDER = "/var/lib/evenwarm";
    static final String USUAL_ONE_WIRE_FOLDER = "/sys/bus/w1/devices";
    static final String USUAL_LED_FOLDER = "/sys/class/leds";

    private static final int USUAL_BAUD = 115_200;
    private static final int MAX_CABINETS = 64;
    private static final String LISTEN_FORM =
            "address:port with a port from 0 (any free one) to 65535, for example"
                    + " \"127.0.0.1:4770\" or \"[::1]:4770\"";
    private static final String LOOK = "look";
    private static final String OPERATE = "operate";
    private static final String KEY_FORM =
            "\"sha256:\" and 64 hex digits: the key that the monitor prints for this";

    private final SettingsFaults faults;
    private final Path folder;

    private ConfigurationReader(SettingsFaults faults, Path folder) {
        this.faults = faults;
        this.folder = folder;
    }

    /** Reads a file. Paths in it that are not absolute start at the file's own folder. */
    static SettingsResult<AgentConfiguration> read(Path file) {
        SettingsFaults faults = new SettingsFaults();
        return read(TomlFile.read(file, faults), faults, folderOf(file));
    }

    /** Reads text, as a file of that name would be. */
    static SettingsResult<AgentConfiguration> parse(Path file, String text) {
        SettingsFaults faults = new SettingsFaults();
        return read(TomlFile.parse(file.toString(), text, faults), faults, folderOf(file));
    }

    /** The folder that a file lies in. */
    static Path folderOf(Path file) {
        Path parent = file.toAbsolutePath().normalize().getParent();
        return parent == null ? file.toAbsolutePath() : parent;
    }

    /** Where Linux's files are, by a file that may have faults elsewhere. */
    static Optional<Roots> rootsOf(TomlSection top, Path folder) {
        return new ConfigurationReader(new SettingsFaults(), folder).roots(top.section("sensors"));
    }

    private static SettingsResult<AgentConfiguration> read(
            Optional<TomlSection> top, SettingsFaults faults, Path folder) {
        Optional<AgentConfiguration> configuration =
                top.flatMap(there -> new ConfigurationReader(faults, folder).read(there));
        if (faults.hasErrors() || configuration.isEmpty()) {
            return new SettingsResult.Rejected<>(faults.errors(), faults.warnings());
        }
        return new SettingsResult.Accepted<>(configuration.get(), faults.warnings());
    }

    private Optional<AgentConfiguration> read(TomlSection top) {
        Optional<AgentName> name = Optional.empty();
        Optional<Path> state = Optional.empty();
        Optional<TomlSection> agent = top.section("agent");
        if (agent.isPresent()) {
            name = agent.get().requiredParsed("name", NAME_FORM, AgentName::new);
            state = path(agent.get(), "state_folder", USUAL_STATE_FOLDER);
        } else if (!top.has("agent")) {
            top.fault("agent", "a table [agent] with name");
        }
        Optional<TomlSection> link = top.section("link");
        Optional<TlsSettings> tls = link.flatMap(there -> there.section("tls")).flatMap(this::tls);
        Optional<SerialSettings> serial =
                link.flatMap(there -> there.section("serial")).flatMap(this::serial);
        if (link.flatMap(there -> there.section("tls")).isEmpty()
                && link.flatMap(there -> there.section("serial")).isEmpty()) {
            top.warn(
                    "link",
                    "neither [link.tls] nor [link.serial]",
                    "no monitor can connect to this agent.");
        }
        JournalPlan journal = journal(top.section("journal"));
        Optional<Roots> roots = roots(top.section("sensors"));
        BeaconSettings beacon =
                top.section("beacon")
                        .map(new BeaconReader(folder, name)::read)
                        .orElse(BeaconSettings.NONE);
        Optional<WatchdogPlan> watchdog = top.section("watchdog").flatMap(this::watchdog);
        SimulationSettings simulation = simulation(top.section("simulation"));
        List<CabinetSettings> cabinets =
                cabinets(
                        top,
                        simulation,
                        roots.map(Roots::oneWire).orElse(Path.of(USUAL_ONE_WIRE_FOLDER)));
        top.rejectUnknownKeys();
        if (faults.hasErrors() || name.isEmpty() || state.isEmpty() || roots.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(
                new AgentConfiguration(
                        name.get(),
                        state.get(),
                        tls,
                        serial,
                        journal,
                        roots.get(),
                        beacon,
                        watchdog,
                        simulation,
                        cabinets));
    }

    private Optional<TlsSettings> tls(TomlSection section) {
        Optional<HostAndPort> listen =
                section.requiredParsed("listen", LISTEN_FORM, HostAndPort::parse);
        Map<KeyPin, Role> monitors = new LinkedHashMap<>();
        for (String key : section.texts("trusted_keys")) {
            try {
                monitors.put(KeyPin.parse(key), Role.OPERATE);
            } catch (IllegalArgumentException e) {
                section.faultWithFound("trusted_keys", "\"" + key + "\"", KEY_FORM);
            }
        }
        for (TomlSection monitor : section.sections("monitor")) {
            Optional<KeyPin> key = monitor.requiredParsed("key", KEY_FORM, KeyPin::parse);
            Role role =
                    monitor.word("role", List.of(LOOK, OPERATE)).orElse(OPERATE).equals(LOOK)
                            ? Role.LOOK
                            : Role.OPERATE;
            if (key.isPresent() && monitors.putIfAbsent(key.get(), role) != null) {
                monitor.fault("key", "a key that does not stand here already");
            }
        }
        Announce announce =
                section.word(
                                "announce",
                                Arrays.stream(Announce.values()).map(Announce::word).toList())
                        .flatMap(
                                word ->
                                        Arrays.stream(Announce.values())
                                                .filter(each -> each.word().equals(word))
                                                .findFirst())
                        .orElse(Announce.WHILE_PAIRING);
        return listen.map(there -> new TlsSettings(there.host(), there.port(), announce, monitors));
    }

    private Optional<SerialSettings> serial(TomlSection section) {
        Optional<String> port =
                section.requiredText("port", "the line's device file, for example \"/dev/ttyGS0\"");
        if (port.isPresent() && !port.get().startsWith("/")) {
            section.fault("port", "the full path of a device file, for example \"/dev/ttyGS0\"");
        }
        int baud = baud(section, "baud");
        return port.map(there -> new SerialSettings(there, baud));
    }

    private static int baud(TomlSection section, String key) {
        return section.whole(key, 1200, 4_000_000, "bits a second").orElse(USUAL_BAUD);
    }

    private static JournalPlan journal(Optional<TomlSection> section) {
        return new JournalPlan(
                whole(section, "interval_seconds", 3600, "s", 5),
                whole(section, "commit_seconds", 600, "s", 10),
                whole(section, "keep_days", 36_500, "days", 400),
                whole(section, "maximum_megabytes", 1_000_000, "MB", 2000));
    }

    private static int whole(
            Optional<TomlSection> section, String key, int max, String unit, int otherwise) {
        return section.map(there -> there.whole(key, 1, max, unit).orElse(otherwise))
                .orElse(otherwise);
    }

    private Optional<WatchdogPlan> watchdog(TomlSection section) {
        boolean disarm = section.flag("disarm_at_clean_end", false);
        Optional<Path> device =
                section.requiredParsed(
                        "device",
                        "the path of the kernel's watchdog device, for example \"/dev/watchdog\"",
                        text -> resolve(folder, text));
        device.ifPresent(
                path ->
                        section.warn(
                                "device",
                                path.toString(),
                                "once the agent runs, this machine restarts itself whenever no"
                                        + " control tick is completed for the device's time (15 s"
                                        + " on a Raspberry Pi)"
                                        + (disarm
                                                ? "."
                                                : ", also after the agent was told to end.")));
        return device.map(path -> new WatchdogPlan(path, disarm));
    }

    private Optional<Roots> roots(Optional<TomlSection> section) {
        Optional<Path> oneWire = root(section, "one_wire_folder", USUAL_ONE_WIRE_FOLDER);
        Optional<Path> hwmon = root(section, "hwmon_folder", "/sys/class/hwmon");
        Optional<Path> iio = root(section, "iio_folder", "/sys/bus/iio/devices");
        Optional<Path> led = root(section, "led_folder", USUAL_LED_FOLDER);
        int boardBaud = section.map(there -> baud(there, "serial_board_baud")).orElse(USUAL_BAUD);
        if (oneWire.isEmpty() || hwmon.isEmpty() || iio.isEmpty() || led.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new Roots(oneWire.get(), hwmon.get(), iio.get(), led.get(), boardBaud));
    }

    private Optional<Path> root(Optional<TomlSection> section, String key, String otherwise) {
        return section.isPresent()
                ? path(section.get(), key, otherwise)
                : Optional.of(Path.of(otherwise));
    }

    private Optional<Path> path(TomlSection section, String key, String otherwise) {
        if (!section.has(key)) {
            section.allow(key);
            return Optional.of(Path.of(otherwise));
        }
        return section.parsed(key, "a folder's path", text -> resolve(folder, text));
    }

    /** A path as written in a file of that folder. */
    static Path resolve(Path folder, String text) {
        if (text.isBlank()) {
            throw new IllegalArgumentException("empty path");
        }
        try {
            return folder.resolve(text).normalize();
        } catch (InvalidPathException e) {
            throw new IllegalArgumentException(e);
        }
    }

    private static SimulationSettings simulation(Optional<TomlSection> section) {
        if (section.isEmpty()) {
            return new SimulationSettings(1, 1, false);
        }
        return new SimulationSettings(
                section.get().whole("seed", 0, Integer.MAX_VALUE, "").orElse(1),
                section.get().number("speed", NumberRange.of(1, 3600, ""), 1),
                section.get().flag("clock_is_set", false));
    }

    private List<CabinetSettings> cabinets(
            TomlSection top, SimulationSettings simulation, Path oneWireFolder) {
        List<TomlSection> sections = top.sections("cabinet");
        if (sections.isEmpty() || sections.size() > MAX_CABINETS) {
            top.faultWithFound(
                    "cabinet",
                    sections.isEmpty() ? "none" : sections.size() + " of them",
                    "1 to " + MAX_CABINETS + " tables [[cabinet]]");
        }
        OneWireBuses buses = new OneWireBuses(oneWireFolder, sections);
        Assignments taken = new Assignments();
        Set<String> names = new HashSet<>();
        List<CabinetSettings> cabinets = new ArrayList<>();
        for (TomlSection section : sections) {
            new CabinetReader(section, taken, buses).read().ifPresent(cabinets::add);
            section.text("name")
                    .filter(name -> !names.add(name))
                    .ifPresent(name -> section.fault("name", "a name that no other cabinet has"));
        }
        if (cabinets.stream().anyMatch(cabinet -> !cabinet.isSimulated())) {
            top.section("simulation").ifPresent(section -> forRealCabinets(section, simulation));
        }
        return cabinets;
    }

    private static void forRealCabinets(TomlSection section, SimulationSettings simulation) {
        if (simulation.speed() != 1) {
            section.fault("speed", "1 while any cabinet is real: a real cabinet can't be hurried");
        }
        if (simulation.isClockSet()) {
            section.fault(
                    "clock_is_set",
                    "false while any cabinet is real: its record needs to know whose time it is");
        }
    }
}
