package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.evenness.Estimate;
import io.evenwarm.monitor.evenness.ProbeEntry;
import io.evenwarm.monitor.evenness.ProbeRecord;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoreOutside;
import java.io.PrintStream;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
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
    public Integer call() throws StoreException {
        Optional<MonitorSettings> settings = program().settings();
        if (settings.isEmpty()) {
            return Evenwarm.BAD_INPUT;
        }
        StoreOutside store = settings.get().storeFromOutside();
        List<CabinetKey> keys;
        try {
            List<CabinetKey> known = store.history().cabinets();
            keys = cabinet == null ? known : List.of(CabinetChoice.of(cabinet, known));
        } catch (IllegalArgumentException e) {
            program().output().err().println(e.getMessage());
            return Evenwarm.BAD_INPUT;
        }
        ProbeTable table =
                new ProbeTable(
                        store.probeRecord(),
                        new Wording(settings.get().unit(), settings.get().zone()),
                        SystemClock.wall().now());
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

    private int add(String cabinetName, String probe, @Nullable String at, Entry entry)
            throws StoreException {
        Optional<MonitorSettings> settings = program().settings();
        if (settings.isEmpty()) {
            return Evenwarm.BAD_INPUT;
        }
        StoreOutside store = settings.get().storeFromOutside();
        Wording wording = new Wording(settings.get().unit(), settings.get().zone());
        ProbeEntry made;
        try {
            CabinetKey key = CabinetChoice.of(cabinetName, store.history().cabinets());
            made =
                    entry.of(
                            store.probeRecord(),
                            key,
                            ProbeTable.known(store.history(), key, probe),
                            at == null
                                    ? SystemClock.wall().now()
                                    : Times.parse("--at", at, wording.zone()));
        } catch (IllegalArgumentException e) {
            program().output().err().println(e.getMessage());
            return Evenwarm.BAD_INPUT;
        }
        store.addProbeEntries(List.of(made));
        program()
                .output()
                .out()
                .println(made.probe() + ": " + ProbeTable.words(made, wording) + ". Kept.");
        return Evenwarm.OK;
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

        @Parameters(index = "0", paramLabel = "CABINET")
        private @Nullable String cabinet;

        @Parameters(index = "1", paramLabel = "PROBE")
        private @Nullable String probe;

        @Option(names = "--at", paramLabel = "TIME", description = "since when; by default now")
        private @Nullable String at;

        @Override
        public Integer call() throws StoreException {
            return Parents.given(probes)
                    .add(Parents.given(cabinet), Parents.given(probe), at, SetAtAgent::entry);
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

        @Parameters(index = "0", paramLabel = "CABINET")
        private @Nullable String cabinet;

        @Parameters(index = "1", paramLabel = "PROBE")
        private @Nullable String probe;

        @Option(names = "--at", paramLabel = "TIME", description = "since when; by default now")
        private @Nullable String at;

        @Override
        public Integer call() throws StoreException {
            return Parents.given(probes)
                    .add(
                            Parents.given(cabinet),
                            Parents.given(probe),
                            at,
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
