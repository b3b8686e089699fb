package io.evenwarm.monitor.app;

import io.evenwarm.link.KeyPin;
import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.app.MonitorSettings.AgentEntry;
import io.evenwarm.monitor.history.Retention;
import io.evenwarm.monitor.history.Tier;
import io.evenwarm.outside.FeedPlan;
import io.evenwarm.quantity.TemperatureUnit;
import io.evenwarm.settings.SettingsFaults;
import io.evenwarm.settings.SettingsResult;
import io.evenwarm.settings.TomlFile;
import io.evenwarm.settings.TomlSection;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Reads the monitor's settings file and names all its faults at once. */
final class SettingsReader {

    private static final int AGENTS_MAX = 64;
    static final int DEFAULT_BAUD = 115_200;
    private static final String DEFAULT_NAME = "monitor";
    private static final String NAME_FORM =
            "1 to 64 letters, digits, spaces or . _ - that begin with a letter or digit";
    private static final String ADDRESS_FORM =
            "address:port with a port from 1 to 65535, for example \"192.168.1.20:4770\" or"
                    + " \"[fd00::20]:4770\"";
    private static final String KEY_FORM =
            "\"sha256:\" and 64 hex digits: the agent's key, as the agent prints it";
    private static final Pattern ADDRESS =
            Pattern.compile("(?:\\[([0-9A-Fa-f:.%a-z]+)]|([A-Za-z0-9.-]+)):(\\d{1,5})");

    private static final String URL_FORM =
            "a PostgreSQL database, for example"
                    + " \"jdbc:postgresql://192.168.1.5/evenwarm?user=evenwarm\"";

    /** The key of each tier, the finest first. */
    private static final List<String> KEEP_TIER =
            List.of("keep_1min_days", "keep_10min_days", "keep_1h_days", "keep_6h_days");

    private final SettingsFaults faults;
    private final Path folder;
    private final Folders folders;

    private SettingsReader(SettingsFaults faults, Path folder, Folders folders) {
        this.faults = faults;
        this.folder = folder;
        this.folders = folders;
    }

    /** Reads a file. Paths in it that are not absolute start at the file's own folder. */
    static SettingsResult<MonitorSettings> read(Path file, Folders folders) {
        SettingsFaults faults = new SettingsFaults();
        return read(TomlFile.read(file, faults), faults, file, folders);
    }

    /** Reads text, as a file of that name would be. */
    static SettingsResult<MonitorSettings> parse(Path file, String text, Folders folders) {
        SettingsFaults faults = new SettingsFaults();
        return read(TomlFile.parse(file.toString(), text, faults), faults, file, folders);
    }

    private static SettingsResult<MonitorSettings> read(
            Optional<TomlSection> top, SettingsFaults faults, Path file, Folders folders) {
        Path parent = file.toAbsolutePath().normalize().getParent();
        Path folder = parent == null ? file.toAbsolutePath() : parent;
        Optional<MonitorSettings> settings =
                top.flatMap(there -> new SettingsReader(faults, folder, folders).read(there));
        return faults.hasErrors() || settings.isEmpty()
                ? new SettingsResult.Rejected<>(faults.errors(), faults.warnings())
                : new SettingsResult.Accepted<>(settings.get(), faults.warnings());
    }

    private Optional<MonitorSettings> read(TomlSection top) {
        Optional<TomlSection> monitor = top.section("monitor");
        String name =
                monitor.flatMap(m -> m.parsed("name", NAME_FORM, SettingsReader::name))
                        .orElse(DEFAULT_NAME);
        Path data =
                monitor.flatMap(m -> m.parsed("data_folder", "a folder's path", this::path))
                        .orElse(folders.data());
        TemperatureUnit unit =
                monitor.flatMap(m -> m.word("temperature_unit", List.of("C", "F")))
                                .orElse("C")
                                .equals("F")
                        ? TemperatureUnit.FAHRENHEIT
                        : TemperatureUnit.CELSIUS;
        ZoneId zone =
                monitor.flatMap(
                                m ->
                                        m.parsed(
                                                "zone",
                                                "a time zone's name, for example"
                                                        + " \"Europe/Berlin\" or \"UTC\"",
                                                SettingsReader::zone))
                        .orElse(ZoneId.systemDefault());
        Optional<TomlSection> history = top.section("history");
        Retention retention = history.map(SettingsReader::retention).orElse(Retention.DEFAULT);
        Optional<String> storeUrl =
                history.flatMap(h -> h.parsed("url", URL_FORM, SettingsReader::storeUrl));
        Optional<PageSettings> page =
                top.section("page").flatMap(section -> PageReader.read(section, folder));
        Optional<FeedPlan> outsideSwitch =
                top.section("outside_switch").flatMap(section -> FeedPlan.read(section, folder));
        List<AgentEntry> agents = agents(top);
        NoticeSettings notices = NoticeSettingsReader.read(top, folder, zone);
        AlarmPlan alarms = AlarmSettingsReader.read(top, agentNames(top));
        Optional<String> person =
                monitor.flatMap(
                        m ->
                                m.parsed(
                                        "person",
                                        NoticeSettingsReader.NAME_FORM,
                                        NoticeSettingsReader::plainName));
        top.rejectUnknownKeys();
        return faults.hasErrors()
                ? Optional.empty()
                : Optional.of(
                        new MonitorSettings(
                                name,
                                data,
                                unit,
                                zone,
                                retention,
                                storeUrl,
                                page,
                                outsideSwitch,
                                agents,
                                notices,
                                alarms,
                                person));
    }

    /** As they are written, also of agents with faults: what names them is no fault, too. */
    private static List<String> agentNames(TomlSection top) {
        return top.sections("agent").stream()
                .flatMap(section -> section.text("name").stream())
                .filter(SettingsReader::isName)
                .distinct()
                .toList();
    }

    private static boolean isName(String text) {
        try {
            return !name(text).isEmpty();
        } catch (IllegalArgumentException e) {
            return false;
        }
    }

    private static String storeUrl(String text) {
        if (!text.matches("jdbc:postgresql:\\S+")) {
            throw new IllegalArgumentException(text);
        }
        return text;
    }

    /** Each of the coarser tiers is kept at least as long as the finer one. */
    private static Retention retention(TomlSection history) {
        int finer =
                history.whole("keep_readings_days", 1, Retention.DAYS_MAX, "days")
                        .orElse(Retention.DEFAULT.readingsDays());
        int readings = finer;
        List<Integer> tiers = new ArrayList<>();
        for (Tier tier : Tier.values()) {
            finer =
                    history.whole(
                                    KEEP_TIER.get(Tier.all().indexOf(tier)),
                                    finer,
                                    Retention.DAYS_MAX,
                                    "days")
                            .orElse(Math.max(finer, Retention.DEFAULT.days(tier)));
            tiers.add(finer);
        }
        return new Retention(readings, tiers);
    }

    private List<AgentEntry> agents(TomlSection top) {
        List<TomlSection> sections = top.sections("agent");
        if (sections.isEmpty() && !top.has("agent")) {
            top.warn(
                    "agent",
                    "none",
                    "there is nothing to watch until an agent stands here: [[agent]] with name,"
                            + " address and key.");
        }
        if (sections.size() > AGENTS_MAX) {
            top.faultWithFound(
                    "agent", sections.size() + " of them", "up to " + AGENTS_MAX + " [[agent]]");
        }
        Set<AgentName> names = new HashSet<>();
        Map<String, AgentName> routes = new HashMap<>();
        List<AgentEntry> agents = new ArrayList<>();
        for (TomlSection section : sections) {
            Optional<AgentName> name = section.requiredParsed("name", NAME_FORM, AgentName::new);
            if (name.isPresent() && !names.add(name.get())) {
                section.fault("name", "a name that no other agent has");
            }
            Optional<Route> route = route(section);
            if (name.isEmpty() || route.isEmpty()) {
                continue;
            }
            AgentName other = routes.putIfAbsent(route.get().where(), name.get());
            if (other != null) {
                section.fault(
                        section.has("address") ? "address" : "serial",
                        "one that agent \"" + other + "\" does not have already");
            }
            agents.add(new AgentEntry(name.get(), route.get()));
        }
        return agents;
    }

    private static Optional<Route> route(TomlSection section) {
        section.allow("address", "key", "serial", "baud");
        boolean hasAddress = section.has("address");
        boolean hasSerial = section.has("serial");
        if (hasAddress == hasSerial) {
            section.faultWithFound(
                    hasAddress ? "serial" : "address",
                    hasAddress ? "both address and serial" : "neither address nor serial",
                    "one of them: address (with key) or serial");
            return Optional.empty();
        }
        return hasAddress ? tls(section) : serial(section);
    }

    private static Optional<Route> tls(TomlSection section) {
        if (section.has("baud")) {
            section.fault("baud", "nothing: it belongs to serial");
        }
        Optional<Matcher> address =
                section.parsed("address", ADDRESS_FORM, SettingsReader::address);
        Optional<KeyPin> key = section.requiredParsed("key", KEY_FORM, KeyPin::parse);
        if (address.isEmpty() || key.isEmpty()) {
            return Optional.empty();
        }
        Matcher there = address.get();
        return Optional.of(
                new Route.Tls(
                        there.group(1) == null ? there.group(2) : there.group(1),
                        Integer.parseInt(there.group(3)),
                        key.get()));
    }

    private static Optional<Route> serial(TomlSection section) {
        boolean hasKey = section.has("key");
        Optional<KeyPin> key = section.parsed("key", KEY_FORM, KeyPin::parse);
        Optional<String> port =
                section.parsed(
                        "serial",
                        "a serial port's path, for example \"/dev/ttyACM0\"",
                        SettingsReader::notBlank);
        int baud = section.whole("baud", 1200, 4_000_000, "bits a second").orElse(DEFAULT_BAUD);
        // A key with a fault must not turn into none.
        return hasKey && key.isEmpty()
                ? Optional.empty()
                : port.map(there -> new Route.Serial(there, baud, key));
    }

    private static Matcher address(String text) {
        Matcher matcher = ADDRESS.matcher(text);
        if (!matcher.matches()
                || Integer.parseInt(matcher.group(3)) > 65_535
                || Integer.parseInt(matcher.group(3)) < 1) {
            throw new IllegalArgumentException(text);
        }
        return matcher;
    }

    /** The rule for names is one for both ends. */
    private static String name(String text) {
        return new AgentName(text).value();
    }

    private static String notBlank(String text) {
        if (text.isBlank()) {
            throw new IllegalArgumentException("blank");
        }
        return text;
    }

    private Path path(String text) {
        try {
            return folder.resolve(notBlank(text)).normalize();
        } catch (InvalidPathException e) {
            throw new IllegalArgumentException(e);
        }
    }

    static ZoneId zone(String text) {
        try {
            return ZoneId.of(text);
        } catch (DateTimeException e) {
            throw new IllegalArgumentException(e);
        }
    }
}
