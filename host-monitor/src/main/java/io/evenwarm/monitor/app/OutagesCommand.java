package io.evenwarm.monitor.app;

import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.store.StoreOutside;
import java.io.IOException;
import java.io.PrintStream;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm outages}: when was there nothing to see? */
@Command(
        name = "outages",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description =
                "Lists the times of which a cabinet's history has no readings, for 2 min or more,"
                        + " with what was dark; failures while readings went on; probes that were"
                        + " not read; times that no monitor watched. Of the whole history, or from"
                        + " --from to --to. Works while a monitor runs.")
final class OutagesCommand implements Callable<Integer> {

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Parameters(
            paramLabel = "CABINET",
            arity = "0..1",
            description =
                    "only this one's; AGENT/CABINET where several agents have one of that name")
    private @Nullable String cabinet;

    @Mixin private SpanOptions span = new SpanOptions();

    @Option(names = "--json", description = "print one JSON object")
    private boolean asJson;

    @Override
    public Integer call() throws IOException {
        return Parents.of(evenwarm).answer(this::answer);
    }

    private int answer(MonitorSettings settings) throws IOException {
        StoreOutside store = settings.storeFromOutside();
        OutageEvents history = new OutageEvents(store);
        ZoneId zone = settings.zone();
        List<CabinetKey> known = store.history().cabinets();
        List<CabinetKey> keys = cabinet == null ? known : List.of(CabinetChoice.of(cabinet, known));
        List<Outage> outages = new ArrayList<>();
        for (CabinetKey key : keys) {
            Optional<TimeSpan> extent = store.history().extent(key);
            if (extent.isPresent()) {
                TimeSpan usual = new TimeSpan(extent.get().from(), extent.get().to().plusMillis(1));
                outages.addAll(history.of(key, span.within(usual, zone)));
            }
        }
        PrintStream out = Parents.of(evenwarm).output().out();
        if (asJson) {
            out.println(OutageJson.list(outages));
        } else if (outages.isEmpty()) {
            out.println(
                    "No reading is missing for 2 min or more in that time, and nothing failed.");
        } else {
            OutageText text = new OutageText(settings.unit(), zone);
            outages.forEach(outage -> out.println(text.line(outage)));
        }
        return Evenwarm.OK;
    }
}
