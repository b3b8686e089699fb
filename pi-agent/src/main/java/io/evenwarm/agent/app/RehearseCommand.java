package io.evenwarm.agent.app;

import io.evenwarm.agent.rehearsal.ControlResponse;
import io.evenwarm.agent.rehearsal.FaultKind;
import io.evenwarm.agent.rehearsal.Rehearsal;
import io.evenwarm.agent.rehearsal.Scenario;
import io.evenwarm.agent.rehearsal.Verdict;
import io.evenwarm.codec.JsonText;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.settings.SettingsFaults;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
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

    private static final int MOST_RUNS = 100_000;
    private static final int MOST_THREADS = 256;
    private static final int MOST_YEARS = 10_000;

    @Spec private CommandSpec spec;
    @Mixin private UnitChoice unit;

    @Parameters(
            paramLabel = "SCENARIO",
            arity = "0..1",
            description = "the scenario's file, when it is one scenario")
    private Optional<Path> file = Optional.empty();

    @ArgGroup(exclusive = true)
    private Many many = new Many();

    @Option(
            names = "--kind",
            paramLabel = "KIND",
            description =
                    "with --catalogue or --pairs: only this kind of fault; may be given several times")
    private List<String> kinds = new ArrayList<>();

    @Option(
            names = "--runs",
            paramLabel = "N",
            description =
                    "with a file: N variations of it, one a seed; else runs of each kind or pair, 20"
                            + " when not said")
    private Optional<Integer> runs = Optional.empty();

    @Option(
            names = "--seed",
            paramLabel = "N",
            description = "the seed of the first run; the file's, or 1, when not said")
    private Optional<Long> seed = Optional.empty();

    @Option(
            names = "--threads",
            paramLabel = "N",
            description = "on so many threads; as many as there are cores when not said")
    private int threads = Runtime.getRuntime().availableProcessors();

    @Option(names = "--details", description = "also one line a run")
    private boolean hasDetails;

    @Option(names = "--json", description = "print one JSON object; its temperatures are in °C")
    private boolean json;

    /** What may stand instead of a file. */
    private static final class Many {
        @Option(
                names = "--catalogue",
                description = "every kind of fault, in cabinets drawn by seed")
        private boolean isCatalogue;

        @Option(names = "--pairs", description = "every pair of kinds, in cabinets drawn by seed")
        private boolean isPairs;

        @Option(
                names = "--healthy-years",
                paramLabel = "YEARS",
                description = "so many cabinet-years without a fault: what is found there is false")
        private int healthyYears;

        boolean isChosen() {
            return isCatalogue || isPairs || healthyYears != 0;
        }
    }

    @Override
    public Integer call() {
        return LogSetup.quietly(this::rehearse);
    }

    private int rehearse() {
        if (file.isPresent() == many.isChosen()) {
            throw new ParameterException(
                    spec.commandLine(),
                    "name one scenario's file, or say --catalogue, --pairs or --healthy-years");
        }
        runs.ifPresent(given -> requireRange("--runs", given, MOST_RUNS));
        requireRange("--threads", threads, MOST_THREADS);
        if (file.isPresent()) {
            return one(file.get());
        }
        ManyRehearsals rehearsals = rehearsals(runs.orElse(0), seed.orElse(1L));
        if (many.isCatalogue) {
            List<FaultKind> chosen = chosen();
            return rehearsals.catalogue(chosen.isEmpty() ? List.of(FaultKind.values()) : chosen);
        }
        if (many.isPairs) {
            return rehearsals.pairs(chosen());
        }
        requireRange("--healthy-years", many.healthyYears, MOST_YEARS);
        return rehearsals.healthyYears(many.healthyYears);
    }

    private ManyRehearsals rehearsals(int count, long firstSeed) {
        return new ManyRehearsals(
                new ManyRehearsals.Order(count, threads, firstSeed, hasDetails, json),
                spec.commandLine().getOut(),
                spec.commandLine().getErr());
    }

    private List<FaultKind> chosen() {
        List<FaultKind> chosen = new ArrayList<>();
        for (String word : kinds) {
            chosen.add(
                    FaultKind.of(word)
                            .orElseThrow(
                                    () ->
                                            new ParameterException(
                                                    spec.commandLine(),
                                                    "found --kind "
                                                            + word
                                                            + "; allowed: one of "
                                                            + words())));
        }
        return chosen;
    }

    private static String words() {
        return String.join(", ", Arrays.stream(FaultKind.values()).map(FaultKind::word).toList());
    }

    private void requireRange(String option, int value, int most) {
        if (value < 1 || value > most) {
            throw new ParameterException(
                    spec.commandLine(),
                    "found " + option + " " + value + "; allowed: 1 to " + most);
        }
    }

    private int one(Path path) {
        SettingsFaults faults = new SettingsFaults();
        Optional<Scenario> read = ScenarioReader.read(path, faults);
        if (read.isEmpty()) {
            CheckCommand.print(spec.commandLine().getErr(), faults.errors(), faults.warnings());
            return ExitCode.BAD_INPUT;
        }
        PrintWriter out = spec.commandLine().getOut();
        if (runs.isPresent()) {
            return rehearsals(runs.get(), seed.orElse(read.get().seed()))
                    .varied(read.get(), done -> printAll(out, done));
        }
        Scenario chosen = seed.map(other -> read.get().withSeed(other)).orElse(read.get());
        Verdict verdict = Rehearsal.run(chosen);
        if (json) {
            out.println(
                    JsonText.object(Map.of("runs", List.of(RehearseJson.run(chosen, verdict)))));
        } else {
            print(out, verdict, chosen);
        }
        return verdict.haveEggsPassedTheCeiling() ? ExitCode.NO : ExitCode.DONE;
    }

    private void printAll(PrintWriter out, List<ManyRehearsals.Varied> done) {
        if (json) {
            out.println(
                    JsonText.object(
                            Map.of(
                                    "runs",
                                    done.stream()
                                            .map(
                                                    run ->
                                                            RehearseJson.run(
                                                                    run.scenario(), run.verdict()))
                                            .toList())));
            return;
        }
        long above = done.stream().filter(run -> run.verdict().haveEggsPassedTheCeiling()).count();
        out.println("eggs above the ceiling in " + above + " of " + done.size() + " runs");
        for (ManyRehearsals.Varied run : done) {
            Verdict verdict = run.verdict();
            out.println(
                    "seed "
                            + verdict.seed()
                            + ": eggs "
                            + celsius(verdict.lowestEggCelsius())
                            + " to "
                            + celsius(verdict.peakEggCelsius())
                            + "; "
                            + verdict.findings().stream()
                                    .map(
                                            found ->
                                                    found.shortWords()
                                                            + " "
                                                            + time(found.raisedAtSeconds()))
                                    .collect(Collectors.joining(", ")));
        }
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
        ControlResponse response = verdict.response();
        out.println(
                "control       "
                        + (response.reachedAtSeconds().isPresent()
                                ? "reached the set point at "
                                        + time(response.reachedAtSeconds().getAsDouble())
                                        + ", "
                                : "")
                        + (response.overshootKelvin().isPresent()
                                ? String.format(
                                        Locale.ROOT,
                                        "at most %.2f K above it",
                                        response.overshootKelvin().getAsDouble())
                                : "never reached the set point")
                        + (response.worstMeanKelvin().isPresent()
                                ? String.format(
                                        Locale.ROOT,
                                        "; once settled every 10-minute mean within %.3f K of it",
                                        response.worstMeanKelvin().getAsDouble())
                                : ""));
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
