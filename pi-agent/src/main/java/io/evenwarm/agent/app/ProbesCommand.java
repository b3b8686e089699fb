package io.evenwarm.agent.app;

import io.evenwarm.agent.app.AgentConfiguration.Roots;
import io.evenwarm.agent.app.CabinetSettings.ProbeDriver;
import io.evenwarm.agent.app.CabinetSettings.ProbeWiring;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.codec.JsonText;
import io.evenwarm.settings.SettingsFault;
import io.evenwarm.settings.SettingsFaults;
import io.evenwarm.settings.TomlFile;
import io.evenwarm.settings.TomlSection;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code probes}. */
@Command(
        name = "probes",
        description = {
            "Tells which probe is which, and writes its role into the configuration.",
            "Alone it lists every probe that is there, with its value. With --warm it waits until one"
                    + " of them rises: take it in your hand. With --cabinet and --role it writes that"
                    + " one, or the one at --address, into the file; the old text stays beside it as"
                    + " FILE.backup. The configuration may have faults yet. An agent that runs takes"
                    + " the new file at its next start.",
            "0 when done; 1 when nothing rose, or the file must not be changed so; 2 for bad input."
        })
final class ProbesCommand implements Callable<Integer> {

    private static final long LOOK_MILLIS = 50;
    private static final double FIRST_SECONDS = 15;
    private static final double SECONDS_PER_PROBE = 1.5;

    @Spec private CommandSpec spec;

    @Option(
            names = "--config",
            required = true,
            paramLabel = "FILE",
            description = "the configuration file")
    private Path config;

    @Option(names = "--warm", description = "wait for the probe that somebody warms")
    private boolean warm;

    @Option(
            names = "--seconds",
            paramLabel = "N",
            defaultValue = "60",
            description = "how long to wait for it, 1 to 3600 (${DEFAULT-VALUE})")
    private int seconds;

    @Option(
            names = "--rise",
            paramLabel = "K",
            defaultValue = "1",
            description = "how far it must rise, 0.2 to 20 K (${DEFAULT-VALUE})")
    private double rise;

    @Option(
            names = "--address",
            paramLabel = "ADDRESS",
            description = "the probe, instead of warming it, as the list shows it")
    private Optional<String> address = Optional.empty();

    @Option(
            names = "--cabinet",
            paramLabel = "NAME",
            description = "write the probe into this cabinet; with --role")
    private Optional<String> cabinet = Optional.empty();

    @Option(
            names = "--role",
            paramLabel = "ROLE",
            description = "what it is there: control, guard, top, middle, bottom, tub, room")
    private Optional<String> role = Optional.empty();

    @Option(
            names = "--name",
            paramLabel = "NAME",
            description = "what it is called there; unless given, it is called by its role")
    private Optional<String> name = Optional.empty();

    @Option(names = "--replace", description = "change what the file says of it, or of that role")
    private boolean replace;

    @Option(names = "--json", description = "print one JSON object")
    private boolean json;

    @Override
    public Integer call() throws IOException {
        PrintWriter err = spec.commandLine().getErr();
        Optional<String> misuse = misuse();
        if (misuse.isPresent()) {
            err.println("evenwarm-agent: " + misuse.get());
            return ExitCode.BAD_INPUT;
        }
        LogSetup.leaveOutDrivers();
        SettingsFaults faults = new SettingsFaults();
        Optional<TomlSection> top = TomlFile.read(config, faults);
        Optional<Roots> roots =
                top.flatMap(
                        there ->
                                ConfigurationReader.rootsOf(
                                        there, ConfigurationReader.folderOf(config)));
        if (top.isEmpty() || roots.isEmpty()) {
            faults.errors().stream().map(SettingsFault::text).forEach(err::println);
            return ExitCode.BAD_INPUT;
        }
        try (FoundProbes found =
                FoundProbes.start(roots.get(), configured(top.get()), SystemClock.monotonic())) {
            found.awaitFirst(
                    Math.min(60, FIRST_SECONDS + SECONDS_PER_PROBE * found.entries().size()));
            return answer(found, err);
        }
    }

    private Optional<String> misuse() {
        if (seconds < 1 || seconds > 3600) {
            return Optional.of("--seconds " + seconds + ": allowed are 1 to 3600");
        }
        if (!(rise >= 0.2 && rise <= 20)) {
            return Optional.of("--rise " + rise + ": allowed are 0.2 to 20 K");
        }
        if (role.isPresent() && role().isEmpty()) {
            return Optional.of("--role " + role.get() + ": allowed are " + ProbeRole.words());
        }
        if (role.isPresent() != cabinet.isPresent()) {
            return Optional.of("--cabinet and --role go together");
        }
        if (warm && address.isPresent()) {
            return Optional.of("--warm and --address exclude each other");
        }
        if (role.isPresent() && !warm && address.isEmpty()) {
            return Optional.of("--role needs to know which probe: add --warm or --address");
        }
        return Optional.empty();
    }

    private Optional<ProbeRole> role() {
        return role.flatMap(
                word ->
                        Arrays.stream(ProbeRole.values())
                                .filter(each -> each.word().equals(word))
                                .findFirst());
    }

    /** Probes of the file, as far as it can be understood. */
    private static Map<ProbeWiring, FoundProbes.User> configured(TomlSection top) {
        Map<ProbeWiring, FoundProbes.User> configured = new LinkedHashMap<>();
        for (TomlSection in : top.sections("cabinet")) {
            for (TomlSection probe : in.sections("probe")) {
                wiring(probe)
                        .ifPresent(
                                wiring ->
                                        configured.putIfAbsent(
                                                wiring,
                                                new FoundProbes.User(
                                                        in.text("name").orElse("?"),
                                                        probe.text("name").orElse("?"))));
            }
        }
        return configured;
    }

    private static Optional<ProbeWiring> wiring(TomlSection probe) {
        String at = probe.text("address").orElse("");
        return probe.text("driver")
                .flatMap(
                        word ->
                                Arrays.stream(ProbeDriver.values())
                                        .filter(driver -> driver.word().equals(word))
                                        .findFirst())
                .filter(driver -> driver != ProbeDriver.SIMULATED)
                .filter(driver -> ProbeReader.sensorAt(driver, at).isPresent())
                .map(driver -> new ProbeWiring(driver, at));
    }

    private int answer(FoundProbes found, PrintWriter err) throws IOException {
        PrintWriter out = spec.commandLine().getOut();
        List<FoundProbes.Entry> there =
                found.entries().stream().filter(FoundProbes.Entry::isThere).toList();
        if (!json) {
            print(out, there);
        }
        if (!warm && address.isEmpty()) {
            if (json) {
                out.println(JsonText.object(Map.of("probes", list(there))));
            }
            return ExitCode.DONE;
        }
        Optional<FoundProbes.Entry> chosen = warm ? warmed(found, err) : addressed(there, err);
        if (chosen.isEmpty()) {
            if (json) {
                out.println(JsonText.object(Map.of("probes", list(there))));
            }
            return ExitCode.NO;
        }
        FoundProbes.Entry entry = chosen.get();
        if (!json && warm) {
            out.println("it is " + words(entry));
        }
        Optional<String> changed = Optional.empty();
        if (role().isPresent()) {
            try {
                changed = Optional.of(write(entry, role().get()));
            } catch (RoleWriter.RefusedException e) {
                err.println("evenwarm-agent: nothing was written: " + e.getMessage());
                return ExitCode.NO;
            }
        }
        if (json) {
            Map<String, Object> object = new LinkedHashMap<>();
            object.put("probes", list(there));
            object.put("chosen", map(entry));
            object.put("changed", changed);
            out.println(JsonText.object(object));
        } else {
            changed.ifPresent(out::println);
        }
        return ExitCode.DONE;
    }

    private Optional<FoundProbes.Entry> addressed(List<FoundProbes.Entry> there, PrintWriter err) {
        Optional<FoundProbes.Entry> chosen =
                there.stream()
                        .filter(entry -> Optional.of(entry.wiring().address()).equals(address))
                        .findFirst();
        if (chosen.isEmpty()) {
            err.println("evenwarm-agent: no probe is at " + address.orElse("") + ": see the list");
        }
        return chosen;
    }

    private Optional<FoundProbes.Entry> warmed(FoundProbes found, PrintWriter err) {
        err.println("Take one probe in your hand, and leave the others alone …");
        RiseWatch watch = new RiseWatch(rise);
        long endNanos = SystemClock.monotonic().nanos() + TimeUnit.SECONDS.toNanos(seconds);
        while (SystemClock.monotonic().nanos() < endNanos) {
            Optional<FoundProbes.Entry> risen = watch.look(found.entries());
            if (risen.isPresent()) {
                return risen;
            }
            FoundProbes.pause(LOOK_MILLIS);
        }
        err.println(
                watch.thermometers() == 0
                        ? "evenwarm-agent: no thermometer answers"
                        : "evenwarm-agent: in "
                                + seconds
                                + " s none of "
                                + watch.thermometers()
                                + " thermometers rose by "
                                + rise
                                + " K while the others did not");
        return Optional.empty();
    }

    private String write(FoundProbes.Entry entry, ProbeRole as)
            throws IOException, RoleWriter.RefusedException {
        RoleWriter.Wish wish =
                new RoleWriter.Wish(cabinet.orElseThrow(), as, name, entry.wiring(), replace);
        String before = Files.readString(config);
        RoleWriter.Change change = RoleWriter.change(config, before, wish);
        if (change.text().equals(before)) {
            return change.words();
        }
        Path backup = FileReplacement.replace(config, change.text());
        return change.words() + "; the file as it was is " + backup;
    }

    private static void print(PrintWriter out, List<FoundProbes.Entry> entries) {
        if (entries.isEmpty()) {
            out.println("no probe is configured, and none was found");
        }
        int width = entries.stream().mapToInt(entry -> place(entry).length()).max().orElse(0);
        for (FoundProbes.Entry entry : entries) {
            String place = place(entry);
            out.println(
                    place
                            + " ".repeat(width - place.length())
                            + "  "
                            + value(entry)
                            + "  "
                            + entry.user().map(FoundProbes.User::toString).orElse("in no cabinet"));
        }
    }

    private static String place(FoundProbes.Entry entry) {
        return entry.wiring().driver().word() + " " + entry.wiring().address();
    }

    private static String words(FoundProbes.Entry entry) {
        return place(entry)
                + ", "
                + entry.user().map(FoundProbes.User::toString).orElse("in no cabinet");
    }

    private static String value(FoundProbes.Entry entry) {
        Sample sample = entry.probe().newest();
        if (sample instanceof Sample.Measured measured) {
            return HardwareCheck.text(measured);
        }
        return sample instanceof Sample.Failed failed
                ? failed.why().words() + ": " + failed.detail()
                : "no answer";
    }

    private static List<Map<String, Object>> list(List<FoundProbes.Entry> entries) {
        List<Map<String, Object>> list = new ArrayList<>();
        entries.forEach(entry -> list.add(map(entry)));
        return list;
    }

    private static Map<String, Object> map(FoundProbes.Entry entry) {
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("driver", entry.wiring().driver().word());
        map.put("address", entry.wiring().address());
        map.put("cabinet", entry.user().map(FoundProbes.User::cabinet));
        map.put("probe", entry.user().map(FoundProbes.User::probe));
        Sample sample = entry.probe().newest();
        map.put(
                sample instanceof Sample.Measured measured
                                && measured.unit() == Sample.Unit.PERCENT_RELATIVE_HUMIDITY
                        ? "percentRelativeHumidity"
                        : "celsius",
                sample instanceof Sample.Measured measured
                        ? Optional.of(measured.value())
                        : Optional.empty());
        map.put(
                "trouble",
                sample instanceof Sample.Measured ? Optional.empty() : Optional.of(value(entry)));
        return map;
    }
}
