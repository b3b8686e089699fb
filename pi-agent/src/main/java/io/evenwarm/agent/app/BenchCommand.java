package io.evenwarm.agent.app;

import io.evenwarm.agent.rehearsal.TickBenchmark;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.codec.JsonText;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code bench}. */
@Command(
        name = "bench",
        description = {
            "Measures what a cabinet's whole tick costs on the virtual clock, beside the bare step of"
                    + " the same simulated cabinet.",
            "1 when it costs more than is allowed."
        },
        subcommands = {
            BenchControlCommand.class,
            BenchRehearsalCommand.class,
            BenchJitterCommand.class
        })
final class BenchCommand implements Callable<Integer> {

    @Spec private CommandSpec spec;

    @Option(names = "--json", description = "print one JSON object")
    private boolean json;

    @Override
    public Integer call() {
        StringBuilder text = new StringBuilder();
        List<TickBenchmark.Figures> figures;
        try {
            figures = TickBenchmark.run(SystemClock.monotonic(), text);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        boolean within = figures.stream().allMatch(TickBenchmark.Figures::isWithinBars);
        if (json) {
            Map<String, Object> object = new LinkedHashMap<>();
            object.put("withinBars", within);
            object.put("tickNanosMax", TickBenchmark.TICK_NANOS_MAX);
            object.put("bareStepsMax", TickBenchmark.BARE_STEPS_MAX);
            object.put("cabinets", figures.stream().map(BenchCommand::asMap).toList());
            spec.commandLine().getOut().println(JsonText.object(object));
        } else {
            spec.commandLine().getOut().print(text);
        }
        return within ? ExitCode.DONE : ExitCode.NO;
    }

    private static Map<String, Object> asMap(TickBenchmark.Figures figures) {
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("probes", figures.probes());
        map.put("bareStepNanos", figures.bareStepNanos());
        map.put("cabinetStepNanos", figures.cabinetStepNanos());
        map.put("tickNanos", figures.tickNanos());
        map.put("bareStepsPerTick", figures.bareStepsPerTick());
        return map;
    }
}
