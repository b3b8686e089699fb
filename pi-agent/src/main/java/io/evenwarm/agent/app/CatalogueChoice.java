package io.evenwarm.agent.app;

import io.evenwarm.agent.rehearsal.Catalogue;
import io.evenwarm.agent.rehearsal.CatalogueRun;
import io.evenwarm.agent.rehearsal.CatalogueTable;
import io.evenwarm.agent.rehearsal.FaultKind;
import io.evenwarm.agent.rehearsal.SeededRuns;
import io.evenwarm.codec.JsonText;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import picocli.CommandLine;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;

/** {@code rehearse --catalogue}: every kind of fault, in any cabinet. */
final class CatalogueChoice {

    private static final int USUAL_RUNS = 20;
    private static final int MOST_RUNS = 100_000;
    private static final int MOST_THREADS = 256;
    private static final int PROGRESS_LINES = 200;

    @Option(
            names = "--catalogue",
            required = true,
            description = "every kind of fault, in cabinets drawn by seed, and one table")
    private boolean isCatalogue;

    @Option(
            names = "--kind",
            paramLabel = "KIND",
            description = "only this kind of fault; may be given several times")
    private List<String> kinds = new ArrayList<>();

    @Option(names = "--runs", paramLabel = "N", description = "runs of each kind; 20 when not said")
    private int runs = USUAL_RUNS;

    @Option(
            names = "--threads",
            paramLabel = "N",
            description = "on so many threads; as many as there are cores when not said")
    private int threads = Runtime.getRuntime().availableProcessors();

    @Option(names = "--details", description = "also one line a run")
    private boolean hasDetails;

    boolean isChosen() {
        return isCatalogue;
    }

    int run(CommandLine command, Optional<Path> scenario, Optional<Long> seed, boolean isJson) {
        if (scenario.isPresent()) {
            throw new ParameterException(
                    command,
                    "--catalogue draws its own scenarios: leave " + scenario.get() + " out");
        }
        requireRange(command, "--runs", runs, MOST_RUNS);
        requireRange(command, "--threads", threads, MOST_THREADS);
        List<FaultKind> chosen = chosen(command);
        long first = seed.orElse(1L);
        int count = chosen.size() * runs;
        PrintWriter err = command.getErr();
        List<CatalogueRun> done;
        try (StopRequest stop = new StopRequest()) {
            done =
                    SeededRuns.all(
                            count,
                            threads,
                            i ->
                                    Catalogue.run(
                                            chosen.get(i / runs),
                                            first + i % runs,
                                            stop::isStopped),
                            stop::isStopped,
                            ended -> tell(err, ended, count));
            print(command.getOut(), done, done.size() == count, count, isJson);
        }
        boolean isPassed = done.stream().anyMatch(run -> run.verdict().haveEggsPassedTheCeiling());
        return isPassed || done.size() < count ? ExitCode.NO : ExitCode.DONE;
    }

    /** A line that is written over, often enough to see it move. */
    private static void tell(PrintWriter err, int ended, int count) {
        int each = Math.max(1, count / PROGRESS_LINES);
        if (ended % each == 0 || ended == count) {
            err.print("\r" + ended + " of " + count + " runs");
            if (ended == count) {
                err.println();
            }
            err.flush();
        }
    }

    private void print(
            PrintWriter out,
            List<CatalogueRun> done,
            boolean isComplete,
            int count,
            boolean isJson) {
        List<CatalogueTable.Row> rows = CatalogueTable.rows(done);
        if (isJson) {
            out.println(JsonText.object(RehearseJson.catalogue(done, rows, isComplete)));
            out.flush();
            return;
        }
        if (hasDetails) {
            out.println(CatalogueRun.LINE_HEAD);
            done.forEach(run -> out.println(run.line()));
            out.println();
        }
        if (!isComplete) {
            out.println("stopped after " + done.size() + " of " + count + " runs");
        }
        out.print(CatalogueTable.text(rows));
        out.flush();
    }

    private List<FaultKind> chosen(CommandLine command) {
        if (kinds.isEmpty()) {
            return List.of(FaultKind.values());
        }
        List<FaultKind> chosen = new ArrayList<>();
        for (String word : kinds) {
            chosen.add(
                    FaultKind.of(word)
                            .orElseThrow(
                                    () ->
                                            new ParameterException(
                                                    command,
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

    private static void requireRange(CommandLine command, String option, int value, int most) {
        if (value < 1 || value > most) {
            throw new ParameterException(
                    command, "found " + option + " " + value + "; allowed: 1 to " + most);
        }
    }
}
