package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.codec.CodecBenchmark;
import io.evenwarm.message.Message;
import io.evenwarm.monitor.chart.ChartBenchmark;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;
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
        subcommands = {
            BenchCommand.Alarms.class,
            BenchCommand.Codec.class,
            BenchCommand.Thermal.class
        })
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

    private static String precise(double value) {
        return String.format(Locale.ROOT, "%.5f", value);
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
    }

    /** {@code evenwarm bench codec}. */
    @Command(
            name = "codec",
            mixinStandardHelpOptions = true,
            versionProvider = Version.class,
            description = {
                "Times what turns messages into octets and back, beside the bare library on the"
                        + " same content. Takes some seconds.",
                "1 when it takes more than twice what that takes."
            })
    static final class Codec implements Callable<Integer> {

        private static final int MESSAGES = 2000;
        private static final long SEED = 8949;

        @ParentCommand private @Nullable BenchCommand bench;

        @Option(names = "--json", description = "print one JSON object")
        private boolean asJson;

        @Override
        public Integer call() throws IOException {
            Random random = new Random(SEED);
            List<Message> messages = new ArrayList<>();
            for (int i = 0; i < MESSAGES; i++) {
                messages.add(new Message.Live(AlarmBenchmark.snapshot(0, i, random)));
            }
            CodecBenchmark.Result result = CodecBenchmark.run(SystemClock.monotonic(), messages);
            PrintStream out = Parents.of(Parents.of(bench).evenwarm).output().out();
            if (asJson) {
                out.println(
                        Json.object(
                                Json.member("encodeNanos", number(result.encodeNanos())),
                                Json.member("bareEncodeNanos", number(result.bareEncodeNanos())),
                                Json.member("encodeRatio", number(result.encodeRatio())),
                                Json.member("decodeNanos", number(result.decodeNanos())),
                                Json.member("bareDecodeNanos", number(result.bareDecodeNanos())),
                                Json.member("decodeRatio", number(result.decodeRatio())),
                                Json.member("firstAllocated", number(result.firstAllocated())),
                                Json.member("lastAllocated", number(result.lastAllocated()))));
            } else {
                result.lines().forEach(out::println);
            }
            return result.isWithinBar() ? Evenwarm.OK : Evenwarm.FAILED;
        }
    }

    /** {@code evenwarm bench thermal}. */
    @Command(
            name = "thermal",
            mixinStandardHelpOptions = true,
            versionProvider = Version.class,
            description = {
                "Times the thermal model of an invented cabinet, over a store of "
                        + ThermalBenchmark.DAYS
                        + " days at one reading each 5 s in a temporary folder: a fit, following 20"
                        + " cabinets live, and what-if, each beside something bare. Takes half a"
                        + " minute or more.",
                "1 when the fit takes 5 s, following 1 % of a core, or what-if 200 ms, or more."
            })
    static final class Thermal implements Callable<Integer> {

        @ParentCommand private @Nullable BenchCommand bench;

        @Option(names = "--json", description = "print one JSON object")
        private boolean asJson;

        @Override
        public Integer call() throws IOException {
            DemoFolder folder = DemoFolder.create(Path.of(System.getProperty("java.io.tmpdir")));
            try {
                ThermalBenchmark.Result result =
                        ThermalBenchmark.run(SystemClock.monotonic(), folder.path());
                PrintStream out = Parents.of(Parents.of(bench).evenwarm).output().out();
                if (asJson) {
                    out.println(json(result));
                } else {
                    result.lines().forEach(out::println);
                }
                return result.isWithinBars() ? Evenwarm.OK : Evenwarm.FAILED;
            } finally {
                folder.delete();
            }
        }

        private static String json(ThermalBenchmark.Result result) {
            return Json.object(
                    Json.member("readingsOfAProbe", Integer.toString(result.readings())),
                    Json.member("firstFitSeconds", precise(result.firstFitSeconds())),
                    Json.member("fitSeconds", precise(result.fitSeconds())),
                    Json.member("bareFitSeconds", precise(result.bareFitSeconds())),
                    Json.member("followingShareOfACore", precise(result.shareOfACore())),
                    Json.member("bareFollowingShareOfACore", tiny(result.bareShareOfACore())),
                    Json.member("whatIfSeconds", precise(result.whatIfSeconds())),
                    Json.member("bareWhatIfSeconds", tiny(result.bareWhatIfSeconds())));
        }

        private static String tiny(double value) {
            return String.format(Locale.ROOT, "%.9f", value);
        }
    }
}
