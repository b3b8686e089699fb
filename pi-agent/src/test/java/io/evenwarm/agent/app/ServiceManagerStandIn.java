package io.evenwarm.agent.app;

import io.evenwarm.agent.testing.NotifySocket;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;

/**
 * A small stand-in for the service manager: does what the unit file says, with a real datagram
 * socket, real signals and real processes. Starts the service, listens to its notify protocol, ends
 * it when its watchdog goes unfed, and runs {@code ExecStopPost} after every end of it. Restarts
 * nothing, so that a test can look at what is left.
 *
 * <p>As the real one (systemd 252, service.c and kill_and_sigcont): after the watchdog's signal
 * comes SIGCONT, so that a stopped process gets to it; what is still there {@code TimeoutAbortSec}
 * later is killed.
 */
final class ServiceManagerStandIn implements AutoCloseable {

    private static final MonotonicClock CLOCK = SystemClock.monotonic();
    private static final long LOOK_MILLIS = 50;

    private final UnitFile unit;
    private final Path script;
    private final Path config;
    private final Path log;
    private final NotifySocket socket;
    private final List<String> said = new CopyOnWriteArrayList<>();
    private final Process main;
    private final CompletableFuture<Integer> stopPost = new CompletableFuture<>();
    private final Thread watcher;
    private volatile boolean isDeaf;
    private volatile boolean isStopping;
    private volatile Optional<String> killed = Optional.empty();
    private volatile boolean isAbandoned;
    private volatile Optional<Process> after = Optional.empty();

    /**
     * Starts the service.
     *
     * @param script what stands for the agent's start script in {@code ExecStart}; the others run
     *     the packaged one
     * @param environment added to the service's
     */
    ServiceManagerStandIn(
            UnitFile unit, Path script, Path config, Path log, Map<String, String> environment)
            throws IOException, InterruptedException {
        this.unit = unit;
        this.script = AgentProcess.SCRIPT;
        this.config = config;
        this.log = log;
        // Beside the configuration: short enough for a socket's name.
        this.socket =
                NotifySocket.bind(
                        config.toAbsolutePath().resolveSibling("notify").normalize().toString());
        run("ExecStartPre").waitFor();
        List<String> command = new ArrayList<>();
        // The watchdog is for one process: sd_watchdog_enabled(3).
        command.addAll(List.of("sh", "-c", "export WATCHDOG_PID=$$; exec \"$@\"", "service"));
        command.addAll(unit.command("ExecStart", script, config));
        ProcessBuilder builder = builder(command);
        builder.environment().put("NOTIFY_SOCKET", socket.name());
        builder.environment()
                .put("WATCHDOG_USEC", Long.toString(unit.seconds("WatchdogSec").toNanos() / 1000));
        builder.environment().putAll(environment);
        main = builder.start();
        watcher = new Thread(this::watch, "service manager");
        watcher.start();
    }

    private ProcessBuilder builder(List<String> command) {
        ProcessBuilder builder =
                new ProcessBuilder(command)
                        .redirectErrorStream(true)
                        .redirectOutput(ProcessBuilder.Redirect.appendTo(log.toFile()));
        builder.environment().putAll(unit.environment());
        return builder;
    }

    private Process run(String key) throws IOException {
        return builder(unit.command(key, script, config)).start();
    }

    private void watch() {
        try {
            watchMain();
            if (!isAbandoned) {
                Process started = run("ExecStopPost");
                after = Optional.of(started);
                stopPost.complete(started.waitFor());
            }
        } catch (IOException | RuntimeException e) {
            stopPost.completeExceptionally(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            stopPost.completeExceptionally(e);
        }
    }

    private void watchMain() throws IOException, InterruptedException {
        long limitNanos = unit.seconds("WatchdogSec").toNanos();
        boolean isReady = false;
        long fedAtNanos = CLOCK.nanos();
        while (main.isAlive()) {
            Optional<String> message = socket.receive(LOOK_MILLIS);
            if (message.isPresent() && !isDeaf) {
                said.add(message.get());
                List<String> lines = message.get().lines().toList();
                isReady |= lines.contains("READY=1");
                isStopping |= lines.contains("STOPPING=1");
                if (lines.contains("WATCHDOG=1") || lines.contains("READY=1")) {
                    fedAtNanos = CLOCK.nanos();
                }
            }
            if (isReady && !isStopping && CLOCK.nanos() - fedAtNanos > limitNanos) {
                killed = Optional.of("watchdog");
                signal(unit.value("WatchdogSignal").replace("SIG", ""));
                signal("CONT");
                awaitOrKill("TimeoutAbortSec");
            }
        }
    }

    private void awaitOrKill(String limitKey) throws InterruptedException {
        if (!main.waitFor(unit.seconds(limitKey).toMillis(), TimeUnit.MILLISECONDS)) {
            killed = Optional.of(limitKey);
            main.toHandle().destroyForcibly();
            main.waitFor();
        }
    }

    /** Sends a signal to the service's process, by its name without SIG. */
    void signal(String name) throws IOException, InterruptedException {
        signal(main, name);
    }

    /** Sends a signal to a process. */
    static void signal(Process process, String name) throws IOException, InterruptedException {
        new ProcessBuilder("kill", "-s", name, Long.toString(process.pid()))
                .redirectErrorStream(true)
                .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                .start()
                .waitFor();
    }

    /** Ends the service as {@code systemctl stop} does. */
    void stop() throws InterruptedException, IOException {
        isStopping = true;
        signal("TERM");
        signal("CONT");
        awaitOrKill("TimeoutStopSec");
    }

    /** From now on nothing that the service says arrives. */
    void deafen() {
        isDeaf = true;
    }

    long pid() {
        return main.pid();
    }

    /** All that the service said. */
    List<String> said() {
        return List.copyOf(said);
    }

    /** What made it kill the service; empty when it did not. */
    Optional<String> killed() {
        return killed;
    }

    boolean isMainAlive() {
        return main.isAlive();
    }

    /** Waits for the end of {@code ExecStopPost} and returns its exit code. */
    int awaitStopPost() throws Exception {
        return stopPost.get(1, TimeUnit.MINUTES);
    }

    String log() {
        try {
            return Files.readString(log);
        } catch (IOException e) {
            return "no log: " + e;
        }
    }

    @Override
    public void close() throws IOException {
        isAbandoned = !stopPost.isDone();
        main.destroyForcibly();
        after.ifPresent(Process::destroyForcibly);
        try {
            watcher.join();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        socket.close();
    }
}
