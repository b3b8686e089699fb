package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.store.StoreException;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm tubs}: which tubs stand where. */
@Command(
        name = "tubs",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description =
                "Lists the tubs that stand in cabinets. Works while a monitor runs, as do add and"
                        + " end.",
        subcommands = {TubsCommand.Add.class, TubsCommand.End.class})
final class TubsCommand implements Callable<Integer> {

    private static final DateTimeFormatter SHOWN =
            DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm", Locale.ROOT);

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Option(names = "--all", description = "also those that are gone")
    private boolean all;

    @Option(names = "--json", description = "print one JSON object")
    private boolean asJson;

    private Evenwarm program() {
        return Parents.of(evenwarm);
    }

    @Override
    public Integer call() throws StoreException {
        Optional<MonitorSettings> settings = program().settings();
        if (settings.isEmpty()) {
            return Evenwarm.BAD_INPUT;
        }
        List<Tub> tubs = settings.get().storeFromOutside().tubs(all);
        if (asJson) {
            program()
                    .output()
                    .out()
                    .println(
                            Json.object(
                                    Json.member(
                                            "tubs",
                                            Json.array(
                                                    tubs.stream()
                                                            .map(TubsCommand::json)
                                                            .toList()))));
        } else {
            ZoneId zone = settings.get().zone();
            tubs.forEach(tub -> program().output().out().println(line(tub, zone)));
        }
        return Evenwarm.OK;
    }

    private static String line(Tub tub, ZoneId zone) {
        return String.format(
                Locale.ROOT,
                "%s: %s / %s, shelf %s, %.0f g, %s, %s",
                tub.name(),
                tub.key().agent(),
                tub.key().cabinet(),
                tub.shelf(),
                tub.massGrams(),
                tub.contents(),
                tub.to().isPresent()
                        ? shown(tub.from(), zone) + " to " + shown(tub.to().get(), zone)
                        : "since " + shown(tub.from(), zone));
    }

    private static String shown(Instant time, ZoneId zone) {
        return SHOWN.format(time.atZone(zone));
    }

    static String json(Tub tub) {
        return Json.object(
                Json.member("name", Json.text(tub.name())),
                Json.member("agent", Json.text(tub.key().agent().value())),
                Json.member("cabinet", Json.text(tub.key().cabinet().value())),
                Json.member("shelf", Json.text(tub.shelf())),
                Json.member("massGrams", Double.toString(tub.massGrams())),
                Json.member("contents", Json.text(tub.contents())),
                Json.member("from", Json.text(tub.from().toString())),
                Json.member("to", Json.text(tub.to().map(Instant::toString))));
    }

    private static Instant time(String option, @Nullable String text, ZoneId zone) {
        return text == null ? SystemClock.wall().now() : Times.parse(option, text, zone);
    }

    /** {@code evenwarm tubs add}. */
    @Command(
            name = "add",
            mixinStandardHelpOptions = true,
            versionProvider = Version.class,
            description = "Puts a tub on the list.")
    static final class Add implements Callable<Integer> {

        @ParentCommand private @Nullable TubsCommand tubs;

        @Parameters(paramLabel = "NAME", description = "what stands on the tub")
        private @Nullable String name;

        @Option(names = "--agent", paramLabel = "NAME", required = true)
        private @Nullable String agent;

        @Option(names = "--cabinet", paramLabel = "NAME", required = true)
        private @Nullable String cabinet;

        @Option(names = "--shelf", paramLabel = "SHELF", required = true)
        private @Nullable String shelf;

        @Option(
                names = "--grams",
                paramLabel = "GRAMS",
                required = true,
                description = "mass of tub, medium and eggs together")
        private double massGrams;

        @Option(
                names = "--contents",
                paramLabel = "TEXT",
                required = true,
                description = "what is in it")
        private @Nullable String contents;

        @Option(names = "--from", paramLabel = "TIME", description = "since when; by default now")
        private @Nullable String from;

        @Override
        public Integer call() throws StoreException {
            Evenwarm program = Parents.given(tubs).program();
            Optional<MonitorSettings> settings = program.settings();
            if (settings.isEmpty()) {
                return Evenwarm.BAD_INPUT;
            }
            Tub tub;
            try {
                tub =
                        new Tub(
                                Parents.given(name),
                                new CabinetKey(
                                        new AgentName(Parents.given(agent)),
                                        new CabinetName(Parents.given(cabinet))),
                                Parents.given(shelf),
                                massGrams,
                                Parents.given(contents),
                                time("--from", from, settings.get().zone()),
                                Optional.empty());
            } catch (IllegalArgumentException e) {
                program.output().err().println(e.getMessage());
                return Evenwarm.BAD_INPUT;
            }
            if (settings.get().agents().stream()
                    .noneMatch(known -> known.name().equals(tub.key().agent()))) {
                program.output()
                        .err()
                        .println(
                                "--agent must be one of the settings: "
                                        + settings.get().agents().stream()
                                                .map(known -> known.name().value())
                                                .toList()
                                        + ", but was "
                                        + tub.key().agent());
                return Evenwarm.BAD_INPUT;
            }
            settings.get().storeFromOutside().addTub(tub);
            program.output().out().println(line(tub, settings.get().zone()));
            return Evenwarm.OK;
        }
    }

    /** {@code evenwarm tubs end}. */
    @Command(
            name = "end",
            mixinStandardHelpOptions = true,
            versionProvider = Version.class,
            description = "Says that a tub is gone from where it stood.")
    static final class End implements Callable<Integer> {

        @ParentCommand private @Nullable TubsCommand tubs;

        @Parameters(paramLabel = "NAME", description = "what stands on the tub")
        private @Nullable String name;

        @Option(names = "--to", paramLabel = "TIME", description = "since when; by default now")
        private @Nullable String to;

        @Override
        public Integer call() throws StoreException {
            Evenwarm program = Parents.given(tubs).program();
            Optional<MonitorSettings> settings = program.settings();
            if (settings.isEmpty()) {
                return Evenwarm.BAD_INPUT;
            }
            Instant gone;
            try {
                gone = time("--to", to, settings.get().zone());
            } catch (IllegalArgumentException e) {
                program.output().err().println(e.getMessage());
                return Evenwarm.BAD_INPUT;
            }
            settings.get().storeFromOutside().endTub(Parents.given(name), gone);
            return Evenwarm.OK;
        }
    }
}
