package io.evenwarm.monitor.app;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;

/** Runs commands of {@code evenwarm} in a home of their own, and keeps what the last one said. */
final class CommandRun {

    private final Path home;
    private final ByteArrayOutputStream out = new ByteArrayOutputStream();
    private final ByteArrayOutputStream err = new ByteArrayOutputStream();

    CommandRun(Path home) {
        this.home = home;
    }

    /** Returns the exit code. */
    int run(String... arguments) {
        out.reset();
        err.reset();
        return MonitorMain.run(
                Folders.of(Map.of(), home.toString()),
                new Output(print(out), print(err)),
                arguments);
    }

    private static PrintStream print(ByteArrayOutputStream bytes) {
        return new PrintStream(bytes, true, StandardCharsets.UTF_8);
    }

    String out() {
        return out.toString(StandardCharsets.UTF_8).replace("\r\n", "\n");
    }

    String err() {
        return err.toString(StandardCharsets.UTF_8);
    }

    /** Where the store is. */
    Path data() {
        return home.resolve("data");
    }

    /** Settings with an agent "egg room", in UTC. */
    void settings(String unit) throws IOException {
        Path folder = Files.createDirectories(home.resolve(".config/evenwarm"));
        Files.writeString(
                folder.resolve("monitor.toml"),
                String.join(
                        "\n",
                        "[monitor]",
                        "data_folder = \"" + data() + "\"",
                        "zone = \"UTC\"",
                        "temperature_unit = \"" + unit + "\"",
                        "[[agent]]",
                        "name = \"egg room\"",
                        "serial = \"/dev/ttyACM0\""));
    }
}
