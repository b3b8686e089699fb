package io.evenwarm.agent.app;

import io.evenwarm.agent.rehearsal.Rehearsal;
import io.evenwarm.agent.rehearsal.Scenario;
import io.evenwarm.agent.rehearsal.Verdict;
import io.evenwarm.codec.JsonText;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.settings.SettingsFaults;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code rehearse}. */
@Command(
        name = "rehearse",
        description = {
            "Lets something go wrong in a simulated cabinet, and tells what became of the eggs.",
            "Runs the agent's own control and guard on a virtual clock: the same seed gives the same"
                    + " run.",
            "0 when the eggs stayed below the ceiling; 1 when they passed it; 2 when the scenario has"
                    + " faults."
        })
final class RehearseCommand implements Callable<Integer> {

    @Spec private CommandSpec spec;
    @Mixin private UnitChoice unit;

    @Parameters(
            paramLabel = "SCENARIO",
            arity = "0..1",
            description = "the scenario's file; none with --catalogue")
    private Optional<Path> scenario = Optional.empty();

    @ArgGroup(exclusive = false)
    private CatalogueChoice catalogue = new CatalogueChoice();

    @Option(
            names = "--seed",
            paramLabel = "N",
            description =
                    "another seed than the file's; with --catalogue the first run's, 1 when not said")
    private Optional<Long> seed = Optional.empty();

    @Option(names = "--json", description = "print one JSON object; its temperatures are in °C")
    private boolean json;

    @Override
    public Integer call() {
        return LogSetup.quietly(this::rehearse);
    }

    private int rehearse() {
        if (catalogue.isChosen()) {
            return catalogue.run(spec.commandLine(), scenario, seed, json);
        }
        if (scenario.isEmpty()) {
            throw new ParameterException(
                    spec.commandLine(), "name a scenario's file, or say --catalogue");
        }
        SettingsFaults faults = new SettingsFaults();
        Optional<Scenario> read = ScenarioReader.read(scenario.get(), faults);
        if (read.isEmpty()) {
            CheckCommand.print(spec.commandLine().getErr(), faults.errors(), faults.warnings());
            return ExitCode.BAD_INPUT;
        }
        Scenario chosen = seed.map(other -> read.get().withSeed(other)).orElse(read.get());
        Verdict verdict = Rehearsal.run(chosen);
        PrintWriter out = spec.commandLine().getOut();
        if (json) {
            out.println(
                    JsonText.object(Map.of("runs", List.of(RehearseJson.run(chosen, verdict)))));
        } else {
            print(out, verdict, chosen);
        }
        return verdict.haveEggsPassedTheCeiling() ? ExitCode.NO : ExitCode.DONE;
    }

    private void print(PrintWriter out, Verdict verdict, Scenario chosen) {
        out.println(
                verdict.haveEggsPassedTheCeiling()
                        ? "NO: eggs were above the ceiling of "
                                + celsius(chosen.cabinet().ceilingCelsius())
                                + " for "
                                + verdict.secondsAboveCeiling()
                                + " s"
                        : "yes: the eggs stayed below the ceiling of "
                                + celsius(chosen.cabinet().ceilingCelsius()));
        out.println("warmest eggs  " + celsius(verdict.peakEggCelsius()));
        out.println("coldest eggs  " + celsius(verdict.lowestEggCelsius()));
        out.println("warmest air   " + celsius(verdict.peakAirCelsius()));
        out.println("heater relay  switched on " + verdict.relayOperations() + " times");
        out.println("seed          " + verdict.seed());
        out.println("run           " + verdict.traceSha256());
        out.println(verdict.findings().isEmpty() ? "nothing was found" : "found:");
        for (Verdict.FoundFinding finding : verdict.findings()) {
            out.println(
                    "  "
                            + time(finding.raisedAtSeconds())
                            + " "
                            + finding.code().value().replace('-', ' ')
                            + finding.probe().map(probe -> ", probe " + probe).orElse("")
                            + (finding.clearedAtSeconds().isPresent()
                                    ? ", until " + time(finding.clearedAtSeconds().getAsDouble())
                                    : ", to the end")
                            + ": "
                            + finding.action());
        }
    }

    private String celsius(double value) {
        return unit.unit().format(new Temperature(value), 2);
    }

    /** Hours, minutes and seconds since the scenario's start. */
    private static String time(double seconds) {
        long whole = (long) seconds;
        return String.format(
                Locale.ROOT, "%d:%02d:%02d", whole / 3600, whole / 60 % 60, whole % 60);
    }
}
