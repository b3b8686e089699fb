package io.evenwarm.agent.app;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.agent.testing.PulsedEnable;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;

/**
 * The process that the outputs live in: plays the kernel for several agents, each with a folder of
 * its own, until its standard input ends. A line keeps its last level when its agent dies, as a
 * Pi's kernel does by default; in a folder with a file {@code release}, lines fall when the process
 * that the file {@code holder} names is gone, as on a kernel that is set to release them.
 *
 * <p>A file {@code hang} makes a bus block: {@code probes} or {@code heater}. Their files become
 * pipes that nobody serves, so that whoever opens one blocks inside the kernel.
 *
 * <p>Behind each cut-off line stands also a relay enable that must be pulsed; whether it is closed
 * is in the file {@code enable}, 0 or 1.
 */
final class LinesProcess {

    /** How long the relay enable holds without a change; hardware-notes/relay-enable.md. */
    static final long HOLD_MILLIS = 3500;

    private static final long STEP_MILLIS = 50;

    private final Path folder;
    private final SimulatedKernel kernel;
    private boolean isHung;
    private boolean isReleased;
    private final PulsedEnable enable;
    private boolean wasClosed;

    private LinesProcess(Path folder, MonotonicClock clock) throws IOException {
        this.folder = folder;
        this.enable = new PulsedEnable(clock, TimeUnit.MILLISECONDS.toNanos(HOLD_MILLIS));
        Files.writeString(folder.resolve("enable"), "0");
        this.kernel = new SimulatedKernel(folder, CabinetBuild.ofVolume(250, 1, 3), 7);
    }

    public static void main(String[] folders) throws Exception {
        List<LinesProcess> all = new ArrayList<>();
        MonotonicClock clock = SystemClock.monotonic();
        for (String folder : folders) {
            all.add(new LinesProcess(Path.of(folder), clock));
        }
        boolean isTold = false;
        while (System.in.available() == 0) {
            for (LinesProcess each : all) {
                each.step(clock.nanos());
            }
            if (!isTold) {
                isTold = true;
                System.out.println("ready");
            }
            Thread.sleep(STEP_MILLIS);
        }
    }

    private void step(long nowNanos) throws IOException, InterruptedException {
        if (!isHung && Files.exists(folder.resolve("hang"))) {
            isHung = true;
            hang(Files.readString(folder.resolve("hang")).strip());
        }
        if (!isHung) {
            kernel.step(nowNanos);
        }
        if (!isReleased && Files.exists(folder.resolve("release")) && isHolderGone()) {
            isReleased = true;
            releaseLines();
        }
        enable.drive(isCutOffHigh());
        if (enable.isClosed() != wasClosed) {
            wasClosed = enable.isClosed();
            Files.writeString(folder.resolve("enable"), wasClosed ? "1" : "0");
        }
    }

    private boolean isCutOffHigh() throws IOException {
        return Files.readString(folder.resolve("leds").resolve("cut-off").resolve("brightness"))
                .strip()
                .equals("1");
    }

    private boolean isHolderGone() throws IOException {
        Path holder = folder.resolve("holder");
        if (Files.notExists(holder)) {
            return false;
        }
        Path state = Path.of("/proc", Files.readString(holder).strip(), "stat");
        try {
            // proc(5): the third field is the state; a dead process that nobody waited for is Z.
            String stat = Files.readString(state, StandardCharsets.ISO_8859_1);
            return stat.substring(stat.lastIndexOf(')') + 2).startsWith("Z");
        } catch (IOException e) {
            return true;
        }
    }

    private void releaseLines() throws IOException {
        for (Path file : files("leds", "brightness")) {
            if (!isPipe(file)) {
                Files.writeString(file, "0\n");
            }
        }
    }

    private static boolean isPipe(Path file) throws IOException {
        return Boolean.FALSE.equals(Files.getAttribute(file, "isRegularFile"));
    }

    private void hang(String what) throws IOException, InterruptedException {
        if (what.equals("probes")) {
            for (Path file : files("w1", "w1_slave")) {
                makePipe(file);
            }
        } else {
            makePipe(folder.resolve("leds").resolve(what).resolve("brightness"));
        }
    }

    private List<Path> files(String kind, String name) throws IOException {
        try (Stream<Path> devices = Files.list(folder.resolve(kind))) {
            return devices.map(device -> device.resolve(name)).filter(Files::exists).toList();
        }
    }

    private static void makePipe(Path file) throws IOException, InterruptedException {
        Path pipe = file.resolveSibling("pipe");
        if (new ProcessBuilder("mkfifo", pipe.toString()).inheritIO().start().waitFor() != 0) {
            throw new IOException("no pipe at " + pipe);
        }
        Files.move(pipe, file, StandardCopyOption.ATOMIC_MOVE);
    }

    /** Starts it in a process of its own and waits until all files are there. */
    static Process start(List<Path> folders) throws IOException {
        List<String> command =
                new ArrayList<>(
                        List.of(
                                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                                "-Xmx64m",
                                "-XX:TieredStopAtLevel=1",
                                "-cp",
                                System.getProperty("java.class.path"),
                                LinesProcess.class.getName()));
        folders.forEach(folder -> command.add(folder.toString()));
        Process process =
                new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start();
        Optional<String> line = Optional.ofNullable(process.inputReader().readLine());
        if (line.isEmpty()) {
            throw new IOException("the lines' process ended");
        }
        return process;
    }
}
