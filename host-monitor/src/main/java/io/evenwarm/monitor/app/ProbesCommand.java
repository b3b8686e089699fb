package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.evenness.Estimate;
import io.evenwarm.monitor.evenness.ProbeEntry;
import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoreOutside;
import java.io.IOException;
import java.io.PrintStream;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm probes}: how far each thermometer can be believed. */
@Command(
        name = "probes",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description =
                "Lists the thermometers: newest reading, corrected, with its ± for 95 %%; what that"
                        + " rests on; when the next check is due. Works while a monitor runs, as do"
                        + " check, set-at-agent and exchanged.",
        subcommands = {
            ProbeCheckCommand.class,
            ProbesCommand.SetAtAgent.class,
            ProbesCommand.Exchanged.class
        })
final class ProbesCommand implements Callable<Integer> {

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Option(
            names = "--cabinet",
            paramLabel = "CABINET",
            description =
                    "only this one's; AGENT/CABINET where several agents have one of that name")
    private @Nullable String cabinet;

    @Option(names = "--all", description = "also all that is on record of each")
    private boolean all;

    @Option(names = "--json", description = "print one JSON object")
    private boolean asJson;

    Evenwarm program() {
        return Parents.of(evenwarm);
    }

    @Override
    public Integer call() throws IOException {
        return program().answer(this::list);
    }

    private int list(MonitorSettings settings) throws StoreException {
        StoreOutside store = settings.storeFromOutside();
        List<CabinetKey> known = store.history().cabinets();
        List<CabinetKey> keys = cabinet == null ? known : List.of(CabinetChoice.of(cabinet, known));
        ProbeTable table =
                new ProbeTable(store.probeRecord(), settings.wording(), SystemClock.wall().now());
        PrintStream out = program().output().out();
        if (asJson) {
            out.println(table.json(keys, store.history()));
        } else {
            table.lines(keys, store.history(), all).forEach(out::println);
        }
        return Evenwarm.OK;
    }

    /** What an entry of one probe is made of. */
    private interface Entry {
        ProbeEntry of(ProbeRecord record, CabinetKey key, ProbeName probe, Instant at);
    }

    /** Which probe an entry is about, and since when it counts. */
    private static final class OneProbe {

        @Parameters(index = "0", paramLabel = "CABINET")
        private @Nullable String cabinet;

        @Parameters(index = "1", paramLabel = "PROBE")
        private @Nullable String probe;

        @Option(names = "--at", paramLabel = "TIME", description = "since when; by default now")
        private @Nullable String at;

        /** Keeps an entry about it, and says so. */
        int keep(Evenwarm program, Entry entry) throws IOException {
            return program.answer(
                    settings -> {
                        StoreOutside store = settings.storeFromOutside();
                        HistoryQueries history = store.history();
                        Wording wording = settings.wording();
                        CabinetKey key =
                                CabinetChoice.of(Parents.given(cabinet), history.cabinets());
                        ProbeEntry made =
                                entry.of(
                                        store.probeRecord(),
                                        key,
                                        ProbeTable.known(history, key, Parents.given(probe)),
                                        at == null
                                                ? SystemClock.wall().now()
                                                : Times.parse("--at", at, wording.zone()));
                        store.addProbeEntries(List.of(made));
                        program.output()
                                .out()
                                .println(
                                        made.probe()
                                                + ": "
                                                + ProbeTable.words(made, wording)
                                                + ". Kept.");
                        return Evenwarm.OK;
                    });
        }
    }

    /** {@code evenwarm probes set-at-agent}. */
    @Command(
            name = "set-at-agent",
            mixinStandardHelpOptions = true,
            versionProvider = Version.class,
            description =
                    "Says that a probe's offset was put into its agent's configuration"
                            + " (offset_kelvin), so that its readings come corrected from then on and"
                            + " are not corrected twice.")
    static final class SetAtAgent implements Callable<Integer> {

        @ParentCommand private @Nullable ProbesCommand probes;

        @Mixin private OneProbe one = new OneProbe();

        @Override
        public Integer call() throws IOException {
            return one.keep(Parents.given(probes).program(), SetAtAgent::entry);
        }

        private static ProbeEntry entry(
                ProbeRecord record, CabinetKey key, ProbeName probe, Instant at) {
            Optional<ProbeEntry> before = record.inForce(key, probe, at);
            Estimate found =
                    before.flatMap(ProbeEntry::offset)
                            .orElseThrow(
                                    () ->
                                            new IllegalArgumentException(
                                                    "no offset of "
                                                            + probe
                                                            + " is known at that time: check it"
                                                            + " first (evenwarm probes check)"));
            return new ProbeEntry(
                    key,
                    probe,
                    at,
                    ProbeEntry.Kind.SET_AT_AGENT,
                    before.get().reference(),
                    Optional.of(
                            new Estimate(
                                    0, found.standardUncertainty(), found.degreesOfFreedom())));
        }
    }

    /** {@code evenwarm probes exchanged}. */
    @Command(
            name = "exchanged",
            mixinStandardHelpOptions = true,
            versionProvider = Version.class,
            description =
                    "Says that another probe reads under a name from then on: it is taken as bought"
                            + " until it is checked.")
    static final class Exchanged implements Callable<Integer> {

        @ParentCommand private @Nullable ProbesCommand probes;

        @Mixin private OneProbe one = new OneProbe();

        @Override
        public Integer call() throws IOException {
            return one.keep(
                    Parents.given(probes).program(),
                    (record, key, name, since) ->
                            new ProbeEntry(
                                    key,
                                    name,
                                    since,
                                    ProbeEntry.Kind.EXCHANGED,
                                    "",
                                    Optional.empty()));
        }
    }
}
