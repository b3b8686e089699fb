package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.alarm.AlarmPerformance;
import io.evenwarm.monitor.alarm.AlarmStatus;
import io.evenwarm.monitor.alert.AlarmsSeen;
import io.evenwarm.monitor.alert.LoggedChange;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.store.StoreOutside;
import java.io.IOException;
import java.io.PrintStream;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm alarms}. */
@Command(
        name = "alarms",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description =
                "Prints the open alarms, and the log: what changed when, by whom and why, in the last"
                        + " 7 days or from --from to --to. Works while a monitor runs.")
final class AlarmsCommand implements Callable<Integer> {

    private static final Duration USUAL = Duration.ofDays(7);
    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm:ss zzz", Locale.ENGLISH);

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Parameters(
            paramLabel = "CABINET",
            arity = "0..1",
            description =
                    "only this one's; AGENT/CABINET where several agents have one of that name")
    private @Nullable String cabinet;

    @Mixin private SpanOptions span = new SpanOptions();

    @Option(
            names = "--figures",
            description =
                    "instead: how well alarms served in that time, beside the bars of the standards")
    private boolean isFigures;

    @Option(names = "--json", description = "print one JSON object")
    private boolean asJson;

    @Override
    public Integer call() throws IOException {
        return Parents.of(evenwarm).answer(this::answer);
    }

    private int answer(MonitorSettings settings) throws IOException {
        ZoneId zone = settings.zone();
        StoreOutside store = settings.storeFromOutside();
        // What changed in this very moment belongs to it.
        Instant end = span.end(zone).orElseGet(() -> SystemClock.wall().now().plusSeconds(1));
        TimeSpan shown = span.within(new TimeSpan(end.minus(USUAL), end), zone);
        Optional<CabinetKey> key =
                cabinet == null
                        ? Optional.empty()
                        : Optional.of(CabinetChoice.of(cabinet, store.history().cabinets()));
        // How alarms stood when a span began is told by what was before it.
        AlarmsSeen seen =
                store.alarms(key, isFigures ? new TimeSpan(Instant.EPOCH, shown.to()) : shown);
        PrintStream out = Parents.of(evenwarm).output().out();
        if (isFigures) {
            AlarmPerformance served =
                    AlarmPerformance.of(
                            seen.log().stream().map(LoggedChange::step).toList(), shown);
            out.println(asJson ? AlarmFigures.json(served) : AlarmFigures.text(served, zone));
        } else if (asJson) {
            out.println(json(seen));
        } else {
            print(seen, zone, out);
        }
        return Evenwarm.OK;
    }

    private static void print(AlarmsSeen seen, ZoneId zone, PrintStream out) {
        out.println(seen.open().isEmpty() ? "No alarm is open." : "Open:");
        for (AlarmStatus alarm : seen.open()) {
            out.println(
                    "  "
                            + alarm.key()
                            + ", "
                            + alarm.priority().words()
                            + ", "
                            + alarm.state().words()
                            + ", since "
                            + time(alarm.began(seen.at()), zone)
                            + alarm.timeLeft()
                                    .map(left -> ", eggs had " + left.toMinutes() + " min")
                                    .orElse("")
                            + ": "
                            + alarm.words().evidence());
        }
        out.println(seen.log().isEmpty() ? "Nothing changed in that time." : "Log:");
        for (LoggedChange change : seen.log()) {
            out.println(
                    "  "
                            + time(change.at(), zone)
                            + "  "
                            + change.alarm()
                            + ": "
                            + change.from()
                            + " to "
                            + change.to()
                            + ", "
                            + change.priority()
                            + ", by "
                            + change.who()
                            + ": "
                            + change.why());
        }
    }

    private static String time(Instant time, ZoneId zone) {
        return TIME.format(time.atZone(zone));
    }

    private static String json(AlarmsSeen seen) {
        return Json.object(
                Json.member(
                        "open",
                        Json.array(seen.open().stream().map(alarm -> json(alarm, seen)).toList())),
                Json.member(
                        "log", Json.array(seen.log().stream().map(AlarmsCommand::json).toList())));
    }

    private static String json(AlarmStatus alarm, AlarmsSeen seen) {
        return Json.object(
                Json.member("subject", Json.text(alarm.key().subject().toString())),
                Json.member("code", Json.text(alarm.key().code().value())),
                Json.member("probe", Json.text(alarm.key().probe().map(Object::toString))),
                Json.member("state", Json.text(alarm.state().words())),
                Json.member("priority", Json.text(alarm.priority().words())),
                Json.member("since", Json.text(alarm.began(seen.at()).toString())),
                Json.member(
                        "timeLeftSeconds",
                        alarm.timeLeft()
                                .map(left -> Long.toString(left.toSeconds()))
                                .orElse("null")),
                Json.member("evidence", Json.text(alarm.words().evidence())),
                Json.member("advice", Json.text(alarm.words().advice())));
    }

    private static String json(LoggedChange change) {
        return Json.object(
                Json.member("number", Long.toString(change.number())),
                Json.member("at", Json.text(change.at().toString())),
                Json.member("subject", Json.text(change.subject())),
                Json.member("code", Json.text(change.code())),
                Json.member("probe", Json.text(change.probe())),
                Json.member("from", Json.text(change.from())),
                Json.member("to", Json.text(change.to())),
                Json.member("who", Json.text(change.who())),
                Json.member("why", Json.text(change.why())),
                Json.member("priority", Json.text(change.priority())),
                Json.member("evidence", Json.text(change.evidence())));
    }
}
