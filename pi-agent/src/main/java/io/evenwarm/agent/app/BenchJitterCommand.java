package io.evenwarm.agent.app;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.codec.JsonText;
import io.evenwarm.link.Identity;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.stream.Stream;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code bench jitter}. */
@Command(
        name = "jitter",
        description = {
            "Runs an agent with simulated cabinets in real time, its journal committing every second,"
                    + " and two monitors that take all it has over TLS, and measures when each"
                    + " control tick began.",
            "1 when fewer than 99.9 % of the ticks began under 50 ms late."
        })
final class BenchJitterCommand implements Callable<Integer> {

    /** Java compiles and links are made; nobody judges an agent by its first seconds. */
    private static final long WARM_UP_SECONDS = 10;

    private static final long TLS_SECONDS = 20;

    @Spec private CommandSpec spec;

    @Option(
            names = "--seconds",
            paramLabel = "N",
            defaultValue = "60",
            description = "how long, 10 to 86400 (default: ${DEFAULT-VALUE})")
    private int seconds;

    @Option(
            names = "--cabinets",
            paramLabel = "N",
            defaultValue = "16",
            description =
                    "how many cabinets of four probes each, 1 to 64 (default: ${DEFAULT-VALUE})")
    private int cabinets;

    @Option(names = "--json", description = "print one JSON object")
    private boolean json;

    @Override
    public Integer call() throws IOException, InterruptedException {
        PrintWriter err = spec.commandLine().getErr();
        if (seconds < 10 || seconds > 86_400 || cabinets < 1 || cabinets > 64) {
            err.println(
                    "evenwarm-agent: --seconds must be 10 to 86400 but was "
                            + seconds
                            + ", --cabinets 1 to 64 but was "
                            + cabinets);
            return ExitCode.BAD_INPUT;
        }
        Path folder = Files.createTempDirectory("evenwarm-jitter");
        try {
            Identity first = Identity.create("bench 1");
            Identity second = Identity.create("bench 2");
            Path config = folder.resolve("agent.toml");
            Files.writeString(config, configuration(cabinets, first, second));
            return ConfigurationReader.read(config)
                    .fold(
                            accepted -> measured(accepted.value(), first, second),
                            rejected -> {
                                err.println("evenwarm-agent: " + rejected.errors());
                                return ExitCode.NO;
                            });
        } finally {
            delete(folder);
        }
    }

    private static String configuration(int cabinets, Identity first, Identity second) {
        StringBuilder text = new StringBuilder(2000);
        text.append(
                """
                [agent]
                name = "measured"
                state_folder = "state"
                [link.tls]
                listen = "127.0.0.1:0"
                trusted_keys = ["%s", "%s"]
                [journal]
                interval_seconds = 1
                commit_seconds = 1
                """
                        .formatted(first.pin(), second.pin()));
        for (int i = 1; i <= cabinets; i++) {
            text.append("[[cabinet]]\nname = \"c").append(i).append("\"\n");
            text.append("set_point_celsius = 31.5\n");
            for (String place : List.of("top", "middle", "bottom", "tub")) {
                text.append("[[cabinet.probe]]\nname = \"").append(place);
                text.append("\"\nposition = \"").append(place);
                text.append("\"\ndriver = \"simulated\"\n");
            }
            for (String line : List.of("heater", "cut_off_relay", "fan")) {
                text.append("[cabinet.").append(line).append("]\ndriver = \"simulated\"\n");
            }
        }
        return text.toString();
    }

    private int measured(AgentConfiguration configuration, Identity first, Identity second) {
        PrintWriter err = spec.commandLine().getErr();
        try {
            return measure(configuration, first, second);
        } catch (IOException e) {
            err.println("evenwarm-agent: " + e.getMessage());
            return ExitCode.NO;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return ExitCode.NO;
        }
    }

    private int measure(AgentConfiguration configuration, Identity first, Identity second)
            throws IOException, InterruptedException {
        MonotonicClock clock = SystemClock.monotonic();
        Ticks ticks = new Ticks(configuration.cabinets().get(0).plan().name());
        try (RunningAgent agent = RunningAgent.prepare(configuration, clock, SystemClock.wall())) {
            agent.start(cause -> ticks.died());
            MonitorLinks.TlsPlace place =
                    agent.awaitTls(TLS_SECONDS)
                            .orElseThrow(() -> new IOException("no monitor can connect"));
            try (BenchMonitor one = monitor(place, first, clock, ticks);
                    BenchMonitor two = monitor(place, second, clock, snapshot -> {})) {
                TimeUnit.SECONDS.sleep(WARM_UP_SECONDS);
                ticks.begin();
                TimeUnit.SECONDS.sleep(seconds);
                TickJitter jitter = ticks.end();
                return told(jitter, List.of(one, two), ticks);
            }
        }
    }

    private static BenchMonitor monitor(
            MonitorLinks.TlsPlace place,
            Identity own,
            MonotonicClock clock,
            Consumer<CabinetSnapshot> live)
            throws IOException {
        return BenchMonitor.connect(place.port(), own, place.key(), clock, live);
    }

    private int told(TickJitter jitter, List<BenchMonitor> monitors, Ticks ticks) {
        PrintWriter out = spec.commandLine().getOut();
        Optional<String> trouble =
                monitors.stream().map(BenchMonitor::trouble).flatMap(Optional::stream).findFirst();
        boolean isSound = trouble.isEmpty() && !ticks.isDead();
        if (json) {
            Map<String, Object> object = new LinkedHashMap<>();
            object.put("withinBar", isSound && jitter.isWithinBar());
            object.put("ticks", jitter.ticks());
            object.put("leftOut", jitter.leftOut());
            object.put("shareOnTime", jitter.shareOnTime());
            object.put("worstMillis", jitter.worstMillis());
            object.put("boundsMillis", Arrays.stream(TickJitter.BOUNDS_MILLIS).boxed().toList());
            object.put("histogram", Arrays.stream(jitter.histogram()).boxed().toList());
            out.println(JsonText.object(object));
        } else {
            out.println(
                    "tick start against the whole second, "
                            + cabinets
                            + " cabinets of 4 probes, journal each second, two monitors over TLS");
            for (BenchMonitor each : monitors) {
                out.println(
                        "a monitor took "
                                + each.lives()
                                + " snapshots and "
                                + each.records()
                                + " journal records");
            }
            out.print(jitter.table());
        }
        trouble.ifPresent(
                why -> spec.commandLine().getErr().println("evenwarm-agent: a monitor: " + why));
        return isSound && jitter.isWithinBar() ? ExitCode.DONE : ExitCode.NO;
    }

    /** When the ticks of one cabinet began, as its snapshots say; from a monitor's thread. */
    private static final class Ticks implements Consumer<CabinetSnapshot> {
        private final CabinetName cabinet;
        private TickJitter jitter = new TickJitter();
        private long lastTick;
        private volatile boolean isDead;

        Ticks(CabinetName cabinet) {
            this.cabinet = cabinet;
        }

        @Override
        public synchronized void accept(CabinetSnapshot snapshot) {
            if (snapshot.cabinet().equals(cabinet) && snapshot.tick() > lastTick) {
                lastTick = snapshot.tick();
                jitter.add(snapshot.moment().monotonicNanos());
            }
        }

        synchronized void begin() {
            jitter = new TickJitter();
        }

        synchronized TickJitter end() {
            TickJitter measured = jitter;
            jitter = new TickJitter();
            return measured;
        }

        void died() {
            isDead = true;
        }

        boolean isDead() {
            return isDead;
        }
    }

    private static void delete(Path folder) throws IOException {
        try (Stream<Path> all = Files.walk(folder)) {
            for (Path each : all.sorted(Comparator.reverseOrder()).toList()) {
                Files.deleteIfExists(each);
            }
        }
    }
}
