package io.evenwarm.agent.app;

import io.evenwarm.agent.driver.timekeeping.KernelClock;
import io.evenwarm.agent.driver.watchdog.ServiceManager;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.clock.WallClock;
import io.evenwarm.settings.SettingsFault;
import io.evenwarm.settings.SettingsResult;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.CompletableFuture;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code run}. */
@Command(
        name = "run",
        description = {
            "Runs the agent until it is told to end (SIGTERM, Ctrl-C).",
            "2 when the configuration has faults; its outputs are driven off and nothing runs."
        })
final class RunCommand implements Callable<Integer> {

    /** The whole way out must not take longer; what hangs by then is left to the end itself. */
    private static final long WAY_OUT_MILLIS = 2800;

    private final MonotonicClock monotonic;
    private final WallClock wall;

    @Spec private CommandSpec spec;

    @Option(
            names = "--config",
            required = true,
            paramLabel = "FILE",
            description = "the configuration file")
    private Path config;

    @Option(
            names = "--announce",
            description = "print one line of JSON on standard output when ready")
    private boolean announce;

    @Option(
            names = "--end-with-input",
            description =
                    "end when standard input ends, so that a starter that dies leaves nothing")
    private boolean endWithInput;

    RunCommand() {
        this(SystemClock.monotonic(), SystemClock.wall(new KernelClock()));
    }

    /** With other clocks than the machine's. */
    RunCommand(MonotonicClock monotonic, WallClock wall) {
        this.monotonic = monotonic;
        this.wall = wall;
    }

    @Override
    public Integer call() {
        PrintWriter err = spec.commandLine().getErr();
        SettingsResult<AgentConfiguration> result = ConfigurationReader.read(config);
        List<SettingsFault> errors =
                result.fold(accepted -> List.of(), SettingsResult.Rejected::errors);
        CheckCommand.print(err, errors, result.warnings());
        return result.fold(
                accepted -> run(accepted.value(), err),
                rejected -> {
                    refuse(err);
                    return ExitCode.BAD_INPUT;
                });
    }

    /** What the file still tells of its outputs is driven off: they may be on from before. */
    private void refuse(PrintWriter err) {
        Optional<List<OutputsOff.Line>> lines = OutputsOff.drive(config);
        boolean allOff =
                lines.isPresent()
                        && lines.get().stream().allMatch(line -> line.failure().isEmpty());
        err.println(
                "evenwarm-agent: "
                        + config
                        + " has faults, so that nothing is run."
                        + (allOff ? " Every output that it names is off." : " OUTPUTS MAY BE ON."));
        for (OutputsOff.Line line : lines.orElse(List.of())) {
            line.failure().ifPresent(why -> err.println("evenwarm-agent: " + why));
        }
    }

    private int run(AgentConfiguration configuration, PrintWriter err) {
        CompletableFuture<Integer> end = new CompletableFuture<>();
        RunningAgent agent;
        try {
            agent =
                    RunningAgent.prepare(
                            configuration,
                            monotonic,
                            wall,
                            ServiceManager.of(System.getenv(), ProcessHandle.current().pid()));
        } catch (StateFolder.TakenException e) {
            err.println("evenwarm-agent: " + e.getMessage());
            return ExitCode.NO;
        }
        Runnable close = new WayOut(agent);
        // Before anything can go on: every way out of this process but a kill passes here.
        Runtime.getRuntime().addShutdownHook(new Thread(close, "way out"));
        agent.start(cause -> end.complete(ExitCode.NO));
        if (announce) {
            PrintWriter out = spec.commandLine().getOut();
            out.println(agent.announcement());
            out.flush();
        }
        if (endWithInput) {
            endWithInput(end);
        }
        int code = end.join();
        close.run();
        return code;
    }

    /** Runs once; whoever comes while it runs waits for its end. */
    private static final class WayOut implements Runnable {
        private final RunningAgent agent;
        private boolean isDone;

        WayOut(RunningAgent agent) {
            this.agent = agent;
        }

        @Override
        public synchronized void run() {
            if (!isDone) {
                isDone = true;
                limitWayOut();
                agent.close();
            }
        }
    }

    /** Lines are off within milliseconds; a disk or a link that hangs must not hold up the end. */
    private static void limitWayOut() {
        Thread limit =
                new Thread(
                        () -> {
                            try {
                                Thread.sleep(WAY_OUT_MILLIS);
                            } catch (InterruptedException e) {
                                Thread.currentThread().interrupt();
                                return;
                            }
                            Runtime.getRuntime().halt(ExitCode.NO);
                        },
                        "way out's limit");
        limit.setDaemon(true);
        limit.start();
    }

    private static void endWithInput(CompletableFuture<Integer> end) {
        Thread watcher =
                new Thread(
                        () -> {
                            awaitEnd(System.in);
                            end.complete(ExitCode.DONE);
                        },
                        "input");
        watcher.setDaemon(true);
        watcher.start();
    }

    /** What comes is of no interest, only that it ends; an input that can't be read has ended. */
    private static void awaitEnd(InputStream in) {
        try {
            in.transferTo(OutputStream.nullOutputStream());
        } catch (IOException e) {
            System.getLogger(RunCommand.class.getName()).log(System.Logger.Level.DEBUG, "input", e);
        }
    }
}
