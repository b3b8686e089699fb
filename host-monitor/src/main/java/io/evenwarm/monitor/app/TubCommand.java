package io.evenwarm.monitor.app;

import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.report.TubAccount;
import io.evenwarm.monitor.store.StoreOutside;
import java.io.IOException;
import java.util.List;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm tub}: what did this tub go through since it went in? */
@Command(
        name = "tub",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description = {
            "Says what a tub's eggs went through since it went in: how long at which temperature,"
                    + " beyond which limits, through which events. Estimated, and where there were"
                    + " no readings reconstructed, by the cabinet's thermal model. Works while a"
                    + " monitor runs.",
            "0 with an answer; 1 when what the eggs had is not known."
        })
final class TubCommand implements Callable<Integer> {

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Parameters(paramLabel = "TUB", description = "as evenwarm tubs lists it")
    private @Nullable String name;

    @Mixin private AnswerForm form = new AnswerForm();

    @Override
    public Integer call() throws IOException {
        if (form.isRefused(Parents.of(evenwarm).output())) {
            return Evenwarm.BAD_INPUT;
        }
        return Parents.of(evenwarm).answer(this::answer);
    }

    private int answer(MonitorSettings settings) throws IOException {
        StoreOutside store = settings.storeFromOutside();
        List<Tub> all = store.tubs(true);
        List<Tub> stands = TubHistory.stands(Parents.given(name), all);
        if (stands.isEmpty()) {
            throw new IllegalArgumentException(
                    "TUB must be one of "
                            + all.stream().map(Tub::name).distinct().toList()
                            + ", but was \""
                            + Parents.given(name)
                            + "\"");
        }
        TubAccount told = new TubHistory(store, settings.alarms().timeLeft()).of(stands);
        TubText text = new TubText(new OutageText(settings.unit(), settings.zone()));
        form.give(
                Parents.of(evenwarm).output(),
                () -> text.page(told, settings.wording()),
                () -> TubText.json(told),
                () -> text.lines(told));
        return told.course().bins().isEmpty() ? Evenwarm.FAILED : Evenwarm.OK;
    }
}
