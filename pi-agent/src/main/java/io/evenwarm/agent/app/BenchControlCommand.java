package io.evenwarm.agent.app;

import io.evenwarm.agent.rehearsal.ControlBenchmark;
import io.evenwarm.codec.JsonText;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code bench control}. */
@Command(
        name = "control",
        description = {
            "Measures how well control holds simulated cabinets of all kinds, each from cold, over a"
                    + " settled day, an open door, a colder room and another set point.",
            "1 when it holds too few of them."
        })
final class BenchControlCommand implements Callable<Integer> {

    @Spec private CommandSpec spec;

    @Option(
            names = "--runs",
            paramLabel = "N",
            defaultValue = "100",
            description = "how many cabinets (default: ${DEFAULT-VALUE})")
    private int runs;

    @Option(
            names = "--seed",
            paramLabel = "N",
            defaultValue = "1",
            description = "seed of the first cabinet (default: ${DEFAULT-VALUE})")
    private long seed;

    @Option(names = "--json", description = "print one JSON object")
    private boolean json;

    @Override
    public Integer call() {
        if (runs < 1 || runs > 100_000) {
            spec.commandLine().getErr().println("--runs: must be 1 to 100000 but was " + runs);
            return ExitCode.BAD_INPUT;
        }
        List<ControlBenchmark.Row> rows = ControlBenchmark.run(runs, seed);
        boolean isWithin = rows.stream().allMatch(ControlBenchmark.Row::isWithinBar);
        if (json) {
            Map<String, Object> object = new LinkedHashMap<>();
            object.put("withinBars", isWithin);
            object.put("rows", rows.stream().map(BenchControlCommand::asMap).toList());
            spec.commandLine().getOut().println(JsonText.object(object));
        } else {
            spec.commandLine().getOut().print(ControlBenchmark.table(rows));
        }
        return isWithin ? ExitCode.DONE : ExitCode.NO;
    }

    private static Map<String, Object> asMap(ControlBenchmark.Row row) {
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("way", row.way());
        map.put("cabinets", row.cabinets());
        map.put("canBeHeldShare", row.canBeHeldShare());
        map.put("meansShare", row.meansShare());
        map.put("overshootShare", row.overshootShare());
        map.put("operationsShare", row.operationsShare());
        map.put("allShare", row.allShare());
        map.put("allOfHoldableShare", row.allOfHoldableShare());
        map.put("mean95Kelvin", row.worst95MeanKelvin());
        map.put("overshoot95Kelvin", row.overshoot95Kelvin());
        map.put("mostOperationsADay", row.mostOperationsADay());
        map.put("warmestAfterDoorCelsius", row.warmestAfterDoorCelsius());
        map.put("medianDoorErrorKelvinHours", row.medianDoorErrorKelvinHours());
        map.put("medianRoomErrorKelvinHours", row.medianRoomErrorKelvinHours());
        map.put("medianStepErrorKelvinHours", row.medianStepErrorKelvinHours());
        return map;
    }
}
