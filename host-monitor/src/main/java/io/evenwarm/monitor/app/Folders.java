package io.evenwarm.monitor.app;

import java.nio.file.Path;
import java.util.Map;

/**
 * Where files lie when nothing else is said: below the user's own folders, as the XDG Base
 * Directory Specification 0.8 has them.
 *
 * @param settings the settings file
 * @param data the data folder
 */
record Folders(Path settings, Path data) {

    static Folders of(Map<String, String> environment, String userHome) {
        return new Folders(
                base(environment, "XDG_CONFIG_HOME", userHome, ".config").resolve("monitor.toml"),
                base(environment, "XDG_DATA_HOME", userHome, ".local/share"));
    }

    private static Path base(
            Map<String, String> environment, String variable, String home, String below) {
        String set = environment.getOrDefault(variable, "");
        // The specification: a path that is not absolute is to be ignored.
        Path base = set.startsWith("/") ? Path.of(set) : Path.of(home).resolve(below);
        return base.resolve("evenwarm");
    }
}
