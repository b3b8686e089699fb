package io.evenwarm.agent.app;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.codec.JsonText;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code simulate}. */
@Command(
        name = "simulate",
        description = {
            "Plays the Linux kernel and a cabinet for an agent in another process, in real time.",
            "Makes a folder with 1-Wire and LED-class files as the kernel has them, and agent.toml"
                    + " for an agent that uses them. A line keeps its level when that agent dies,"
                    + " as a Pi's does. Runs until it is told to end.",
            "2 when the folder can't be used."
        })
final class SimulateCommand implements Callable<Integer> {

    private static final long STEP_MILLIS = 250;

    @Spec private CommandSpec spec;

    @Option(
            names = "--folder",
            required = true,
            paramLabel = "DIR",
            description = "the folder; made if need be")
    private Path folder;

    @Option(
            names = "--volume-litres",
            paramLabel = "L",
            defaultValue = "250",
            description = "the cabinet's inner volume, 20 to 2000 (default: ${DEFAULT-VALUE})")
    private double volumeLitres;

    @Option(
            names = "--start-celsius",
            paramLabel = "C",
            defaultValue = "21",
            description = "everything in it at the start, -30 to 60 (default: ${DEFAULT-VALUE})")
    private double startCelsius;

    @Option(
            names = "--seed",
            paramLabel = "N",
            defaultValue = "7",
            description = "of the noise (default: ${DEFAULT-VALUE})")
    private long seed;

    @Option(
            names = "--announce",
            description = "print one line of JSON on standard output when the files are there")
    private boolean announce;

    @Override
    public Integer call() {
        PrintWriter err = spec.commandLine().getErr();
        CabinetBuild build;
        try {
            build = CabinetBuild.ofVolume(volumeLitres, 1, 3).withStart(startCelsius);
        } catch (IllegalArgumentException e) {
            err.println("evenwarm-agent: " + e.getMessage());
            return ExitCode.BAD_INPUT;
        }
        MonotonicClock clock = SystemClock.monotonic();
        try {
            SimulatedKernel kernel = new SimulatedKernel(folder, build, seed);
            kernel.step(clock.nanos());
            tell(kernel);
            return stepForEver(kernel, clock);
        } catch (IOException e) {
            err.println("evenwarm-agent: " + folder + " can't be used: " + Failures.inOneLine(e));
            return ExitCode.BAD_INPUT;
        }
    }

    private void tell(SimulatedKernel kernel) {
        PrintWriter out = spec.commandLine().getOut();
        if (announce) {
            Map<String, Object> object = new LinkedHashMap<>();
            object.put("folder", folder.toString());
            object.put("config", kernel.configuration().toString());
            out.println(JsonText.object(object));
        } else {
            out.println(
                    "The cabinet is there. In another terminal: evenwarm-agent run --config "
                            + kernel.configuration());
        }
        out.flush();
    }

    private static int stepForEver(SimulatedKernel kernel, MonotonicClock clock)
            throws IOException {
        while (!Thread.currentThread().isInterrupted()) {
            try {
                Thread.sleep(STEP_MILLIS);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                break;
            }
            kernel.step(clock.nanos());
        }
        return ExitCode.DONE;
    }
}
