package io.evenwarm.monitor.notice.channel;

import io.evenwarm.testing.Programs;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/** A real broker of a test's own: Debian's program on a free loopback port. */
final class Mosquitto implements AutoCloseable {

    private final Path folder;
    private final int port;
    private final String settings;
    private @Nullable Process process;

    /**
     * Makes one; {@link #start} starts it.
     *
     * @param settings further lines of its configuration
     */
    Mosquitto(Path folder, String... settings) throws IOException {
        this.folder = folder;
        port = Programs.freePort();
        // Where it is root it would give that up, and then not read the test's own folder.
        String user = "user " + System.getProperty("user.name") + "\n";
        this.settings =
                user
                        + "listener "
                        + port
                        + " 127.0.0.1\npersistence true\npersistence_location "
                        + folder
                        + "/\nautosave_interval 1\nautosave_on_changes true\n"
                        + String.join("\n", settings)
                        + "\n";
    }

    static Optional<Path> program() {
        return Stream.of("/usr/sbin/mosquitto", "/usr/bin/mosquitto")
                .map(Path::of)
                .filter(Files::isExecutable)
                .findFirst();
    }

    int port() {
        return port;
    }

    Mosquitto start() throws IOException {
        Path file = Files.writeString(folder.resolve("mosquitto.conf"), settings);
        Path log = folder.resolve("mosquitto.log");
        process =
                new ProcessBuilder(program().orElseThrow().toString(), "-c", file.toString())
                        .redirectErrorStream(true)
                        .redirectOutput(ProcessBuilder.Redirect.appendTo(log.toFile()))
                        .start();
        Waiting.until(20, this::answers, () -> "the broker did not start: see " + log);
        return this;
    }

    private boolean answers() {
        try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
            return socket.isConnected();
        } catch (IOException e) {
            return false;
        }
    }

    /** Kills it, as a power cut does. */
    void kill() {
        Process running = process;
        process = null;
        if (running != null) {
            running.destroyForcibly();
            try {
                running.waitFor(10, TimeUnit.SECONDS);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        }
    }

    @Override
    public void close() {
        kill();
    }
}
