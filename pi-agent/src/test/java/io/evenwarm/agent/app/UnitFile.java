package io.evenwarm.agent.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** The service's unit file that the hardware notes give out, read as the service manager does. */
final class UnitFile {

    static final Path SHIPPED = Path.of("..", "hardware-notes", "evenwarm-agent.service");

    private static final String SCRIPT = "/opt/evenwarm/bin/evenwarm-agent";
    private static final String CONFIG = "/etc/evenwarm/agent.toml";

    private final Map<String, List<String>> values = new HashMap<>();

    private UnitFile(List<String> lines) {
        for (String line : lines) {
            int equals = line.indexOf('=');
            if (equals > 0 && !line.startsWith("#")) {
                values.computeIfAbsent(line.substring(0, equals), key -> new ArrayList<>())
                        .add(line.substring(equals + 1).strip());
            }
        }
    }

    static UnitFile read() throws IOException {
        return new UnitFile(Files.readAllLines(SHIPPED));
    }

    boolean has(String key) {
        return values.containsKey(key);
    }

    /** The one value of a key. */
    String value(String key) {
        List<String> all = values.getOrDefault(key, List.of());
        if (all.size() != 1) {
            throw new IllegalStateException(SHIPPED + " has " + all.size() + " of " + key);
        }
        return all.get(0);
    }

    /** A span of time that is written in plain seconds. */
    Duration seconds(String key) {
        return Duration.ofSeconds(Long.parseLong(value(key)));
    }

    Map<String, String> environment() {
        Map<String, String> environment = new LinkedHashMap<>();
        for (String each : values.getOrDefault("Environment", List.of())) {
            int equals = each.indexOf('=');
            environment.put(each.substring(0, equals), each.substring(equals + 1));
        }
        return environment;
    }

    /**
     * A command line with this machine's places in it.
     *
     * @param key as {@code ExecStart}
     */
    List<String> command(String key, Path script, Path config) {
        List<String> command = new ArrayList<>();
        for (String word : value(key).replaceFirst("^-", "").split(" +", -1)) {
            command.add(
                    word.equals(SCRIPT)
                            ? script.toAbsolutePath().toString()
                            : word.equals(CONFIG) ? config.toAbsolutePath().toString() : word);
        }
        return command;
    }
}
