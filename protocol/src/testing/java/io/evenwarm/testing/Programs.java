package io.evenwarm.testing;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.link.KeyPin;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.function.BooleanSupplier;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** Programs that a test starts, what they say, and their end with it. */
public final class Programs implements AutoCloseable {

    /** The built monitor; a test that needs it is an IT. */
    public static final Path MONITOR =
            Path.of("../host-monitor/target/dist/bin/evenwarm").toAbsolutePath().normalize();

    /** The built agent. */
    public static final Path AGENT =
            Path.of("../pi-agent/target/dist/bin/evenwarm-agent").toAbsolutePath().normalize();

    private static final int SECONDS_MAX = 100;

    private final Path folder;
    private final List<Process> started = new ArrayList<>();
    private final Set<String> names = new LinkedHashSet<>();

    /**
     * @param folder where what they say goes
     */
    public Programs(Path folder) {
        this.folder = folder;
    }

    /** Starts a program without a display; what it says is added to what one of that name said. */
    public Process start(String name, String... command) throws IOException {
        ProcessBuilder builder =
                new ProcessBuilder(command)
                        .redirectErrorStream(true)
                        .redirectOutput(ProcessBuilder.Redirect.appendTo(output(name).toFile()));
        builder.environment().remove("DISPLAY");
        Process process = builder.start();
        started.add(process);
        names.add(name);
        return process;
    }

    /** Starts a class of the tests in a JVM of its own. */
    public Process startJava(String name, Class<?> main, String... arguments) throws IOException {
        List<String> command =
                new ArrayList<>(
                        List.of(
                                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                                "-XX:TieredStopAtLevel=1",
                                "-Xmx128m",
                                "-cp",
                                System.getProperty("java.class.path"),
                                main.getName()));
        command.addAll(List.of(arguments));
        return start(name, command.toArray(String[]::new));
    }

    private Path output(String name) {
        return folder.resolve(name + ".out");
    }

    /** All that programs of that name said. */
    public String said(String name) {
        try {
            return Files.exists(output(name)) ? Files.readString(output(name)) : "";
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Waits until a program says something; the first group of it. */
    public String await(String name, String pattern) {
        Pattern wanted = Pattern.compile(pattern);
        Waiting.until(
                SECONDS_MAX,
                () -> wanted.matcher(said(name)).find(),
                () -> "no " + pattern + " in:\n" + said(name));
        Matcher matcher = wanted.matcher(said(name));
        if (!matcher.find()) {
            throw new AssertionError("it said " + pattern + " and then no more");
        }
        return matcher.group(1);
    }

    /** Waits until a condition holds; failing, it says all that was said. */
    public void until(BooleanSupplier condition) {
        Waiting.until(SECONDS_MAX, condition, this::allSaid);
    }

    private String allSaid() {
        StringBuilder all = new StringBuilder();
        for (String name : names) {
            all.append('\n').append(name).append(":\n").append(said(name));
        }
        return all.toString();
    }

    /** A file in the folder that only its owner may read. */
    public Path secret(String name, String text) throws IOException {
        Path file = folder.resolve(name);
        Files.writeString(file, text);
        return Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-------"));
    }

    /** The key of a monitor whose settings are to stand there; the first of them are put there. */
    public KeyPin monitorKey(Path settings) throws IOException, InterruptedException {
        Files.writeString(settings, "[monitor]\ndata_folder = \"data\"\n");
        Process asking =
                start(
                        "identity",
                        MONITOR.toString(),
                        "identity",
                        "--settings",
                        settings.toString());
        assertEquals(0, asking.waitFor(), said("identity"));
        return KeyPin.parse(await("identity", "(sha256:[0-9a-f]{64})"));
    }

    /** As by SIGKILL, with all that it started. */
    public static void kill(@Nullable Process process) {
        if (process == null) {
            return;
        }
        List<ProcessHandle> children = process.descendants().toList();
        process.destroyForcibly();
        children.forEach(ProcessHandle::destroyForcibly);
        Waiting.until(20, () -> !process.isAlive(), () -> "it lives on: " + process);
    }

    /** A port that nobody listens at now. */
    public static int freePort() {
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            return socket.getLocalPort();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Whether somebody of this machine listens there. */
    public static boolean isAnswered(int port) {
        try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
            return socket.isConnected();
        } catch (IOException e) {
            return false;
        }
    }

    @Override
    public void close() {
        started.forEach(Programs::kill);
    }
}
