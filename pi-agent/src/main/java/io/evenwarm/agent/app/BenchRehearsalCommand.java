package io.evenwarm.agent.app;

import io.evenwarm.agent.rehearsal.RehearsalBenchmark;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.codec.JsonText;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code bench rehearsal}. */
@Command(
        name = "rehearsal",
        description = {
            "Measures how many cabinet-years a minute rehearsals simulate on one core, beside the bare"
                    + " step of the simulated cabinet.",
            "1 when they are too slow."
        })
final class BenchRehearsalCommand implements Callable<Integer> {

    @Spec private CommandSpec spec;

    @Option(names = "--json", description = "print one JSON object")
    private boolean json;

    @Override
    public Integer call() {
        return LogSetup.quietly(this::measure);
    }

    private int measure() {
        RehearsalBenchmark.Figures figures = RehearsalBenchmark.run(SystemClock.monotonic());
        if (json) {
            Map<String, Object> object = new LinkedHashMap<>();
            object.put("withinBar", figures.isWithinBar());
            object.put("cabinetYearsAMinute", figures.yearsAMinute());
            object.put("cabinetYearsAMinuteLeast", RehearsalBenchmark.YEARS_A_MINUTE_LEAST);
            object.put("tickNanos", figures.tickNanos());
            object.put("bareStepNanos", figures.bareStepNanos());
            object.put("bareStepsPerTick", figures.bareSteps());
            spec.commandLine().getOut().println(JsonText.object(object));
        } else {
            spec.commandLine().getOut().print(figures.text());
        }
        return figures.isWithinBar() ? ExitCode.DONE : ExitCode.NO;
    }
}
