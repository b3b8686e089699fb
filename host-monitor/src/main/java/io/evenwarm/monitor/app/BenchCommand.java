package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.chart.ChartBenchmark;
import java.io.PrintStream;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm bench}. */
@Command(
        name = "bench",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description =
                "Times the drawing of a day of three probes at one reading a second, beside the bare"
                        + " plot library. Takes some seconds and needs no display.",
        subcommands = BenchCommand.Alarms.class)
final class BenchCommand implements Callable<Integer> {

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Option(names = "--json", description = "print one JSON object")
    private boolean asJson;

    @Override
    public Integer call() {
        // Charts are drawn into memory: AWT must not look for a display.
        System.setProperty("java.awt.headless", "true");
        ChartBenchmark.Result result = ChartBenchmark.run(SystemClock.monotonic());
        PrintStream out = Parents.of(evenwarm).output().out();
        if (asJson) {
            out.println(
                    Json.object(
                            Json.member("points", Integer.toString(result.points())),
                            Json.member("evenwarmMillis", number(result.ours())),
                            Json.member("bareSamplingMillis", number(result.bareSampling())),
                            Json.member("bareLineMillis", number(result.bareLine()))));
        } else {
            result.lines().forEach(out::println);
        }
        return Evenwarm.OK;
    }

    private static String number(double value) {
        return String.format(Locale.ROOT, "%.2f", value);
    }

    /** {@code evenwarm bench alarms}. */
    @Command(
            name = "alarms",
            mixinStandardHelpOptions = true,
            versionProvider = Version.class,
            description = {
                "Times what the alarm logic makes of the snapshots of 1,000 cabinets, beside a bare"
                        + " pass over the same snapshots. Takes some seconds.",
                "1 when it takes a tenth of a core or more."
            })
    static final class Alarms implements Callable<Integer> {

        @ParentCommand private @Nullable BenchCommand bench;

        @Option(names = "--json", description = "print one JSON object")
        private boolean asJson;

        @Override
        public Integer call() {
            AlarmBenchmark.Result result = AlarmBenchmark.run(SystemClock.monotonic());
            PrintStream out = Parents.of(Parents.of(bench).evenwarm).output().out();
            if (asJson) {
                out.println(
                        Json.object(
                                Json.member("cabinets", Integer.toString(AlarmBenchmark.CABINETS)),
                                Json.member("millisForASecond", number(result.millis())),
                                Json.member("bareMillisForASecond", precise(result.bareMillis())),
                                Json.member("shareOfACore", precise(result.share())),
                                Json.member("timesTheBarePass", number(result.ratio())),
                                Json.member("changes", Long.toString(result.changes()))));
            } else {
                result.lines().forEach(out::println);
            }
            return result.isWithinBar() ? Evenwarm.OK : Evenwarm.FAILED;
        }

        private static String precise(double value) {
            return String.format(Locale.ROOT, "%.5f", value);
        }
    }
}
