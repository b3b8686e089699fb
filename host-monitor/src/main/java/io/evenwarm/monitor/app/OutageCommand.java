package io.evenwarm.monitor.app;

import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.outage.EggBand;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.report.OutageAccount;
import io.evenwarm.monitor.store.StoreOutside;
import java.io.IOException;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm outage}: what did the eggs go through? */
@Command(
        name = "outage",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description = {
            "Says what an outage came to: how cold the eggs got and for how long, by the cabinet's"
                    + " thermal model and the readings on both sides, and how well that is known."
                    + " Works while a monitor runs.",
            "0 with an answer; 1 when what the eggs had is not known."
        })
final class OutageCommand implements Callable<Integer> {

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Parameters(
            paramLabel = "EVENT",
            description =
                    "as evenwarm outages lists it; CABINET@TIME with any time within it; or a"
                            + " cabinet alone: its newest one")
    private @Nullable String event;

    @Mixin private AnswerForm form = new AnswerForm();

    @Override
    public Integer call() throws IOException {
        if (form.isRefused(Parents.of(evenwarm).output())) {
            return Evenwarm.BAD_INPUT;
        }
        return Parents.of(evenwarm).answer(this::answer);
    }

    private int answer(MonitorSettings settings) throws IOException {
        String asked = Parents.given(event);
        int at = asked.lastIndexOf('@');
        String name = at < 0 ? asked : asked.substring(0, at);
        StoreOutside store = settings.storeFromOutside();
        OutageHistory history = new OutageHistory(store, settings.alarms().timeLeft());
        CabinetKey key = CabinetChoice.of(name, store.history().cabinets());
        List<Outage> all = new OutageEvents(store).ofAll(key);
        Outage outage =
                at < 0
                        ? newest(all, key)
                        : meant(all, asked, asked.substring(at + 1), settings.zone());
        OutageAccount told = history.review(outage);
        OutageText text = new OutageText(settings.unit(), settings.zone());
        form.give(
                Parents.of(evenwarm).output(),
                () -> OutagePage.of(told, text, settings.wording()),
                () -> OutageJson.of(told),
                () -> text.lines(told));
        return told.review().coldest().filter(EggBand::isLikelyKnown).isPresent()
                ? Evenwarm.OK
                : Evenwarm.FAILED;
    }

    private static Outage newest(List<Outage> all, CabinetKey key) {
        if (all.isEmpty()) {
            throw new IllegalArgumentException(
                    CabinetChoice.full(key) + " has no time without readings and no failure");
        }
        return all.get(all.size() - 1);
    }

    private static Outage meant(List<Outage> all, String asked, String time, ZoneId zone) {
        for (Outage outage : all) {
            if (outage.id().endsWith("@" + time)) {
                return outage;
            }
        }
        Instant within = Times.parse("EVENT after its @", time, zone);
        return all.stream()
                .filter(outage -> outage.holds(within))
                .findFirst()
                .orElseThrow(
                        () ->
                                new IllegalArgumentException(
                                        "EVENT must be one that evenwarm outages lists, or a time"
                                                + " within one, but was \""
                                                + asked
                                                + "\""));
    }
}
