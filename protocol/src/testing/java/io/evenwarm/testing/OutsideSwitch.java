package io.evenwarm.testing;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** The outside switch that docs/ ship, in a process of its own, with one feed. */
public final class OutsideSwitch {

    /** Who knows it may feed. */
    public static final String TOKEN = "a-token-of-sufficient-length";

    /** The program. */
    public static final Path SCRIPT =
            Path.of("..", "docs", "outside-switch", "outside_switch.py").toAbsolutePath();

    private final Programs programs;
    private final Path folder;
    private final int port = Programs.freePort();
    private final Path feeds;

    /**
     * Made ready, not started. Skips the test where there is no Python.
     *
     * @param fed whom it misses when nobody calls
     */
    public OutsideSwitch(Programs programs, Path folder, String fed) throws IOException {
        Tools.need("python3", "the outside switch", "python3");
        this.programs = programs;
        this.folder = folder;
        this.feeds = programs.secret("feeds", TOKEN + " " + fed + "\n");
    }

    /** Starts it, anew too; answers once it listens. */
    public Process start(int limitSeconds) throws IOException {
        Process process =
                programs.start(
                        "switch",
                        "python3",
                        SCRIPT.toString(),
                        "--listen",
                        "127.0.0.1:" + port,
                        "--feeds",
                        feeds.toString(),
                        "--state",
                        state().toString(),
                        "--limit-seconds",
                        Integer.toString(limitSeconds),
                        "--",
                        "sh",
                        "-c",
                        "cat >> " + told() + "; echo >> " + told());
        programs.until(() -> Programs.isAnswered(port));
        return process;
    }

    /** What it knows of who is missed. */
    public Path state() {
        return folder.resolve("switch.json");
    }

    public Path feeds() {
        return feeds;
    }

    public int port() {
        return port;
    }

    /** Where its feed calls: a secret. */
    public String address() {
        return "http://127.0.0.1:" + port + "/feed/" + TOKEN;
    }

    private Path told() {
        return folder.resolve("told");
    }

    /** Whether it handed a message of this subject to its program. */
    public boolean isTold(String subject) {
        try {
            return Files.exists(told())
                    && Files.readString(told()).contains("\"subject\": \"" + subject + "\"");
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
