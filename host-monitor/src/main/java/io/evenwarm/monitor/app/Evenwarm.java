package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.link.Identity;
import io.evenwarm.monitor.alert.AlarmBoard;
import io.evenwarm.monitor.alert.AlarmKeeper;
import io.evenwarm.monitor.alert.Drills;
import io.evenwarm.monitor.notice.AnswerLinks;
import io.evenwarm.monitor.notice.Post;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.web.NoticeAnswers;
import io.evenwarm.monitor.web.PageServer;
import io.evenwarm.outside.SwitchFeed;
import io.evenwarm.settings.SettingsFault;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.logging.Level;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.ScopeType;

/** The program itself: without a command it opens the window. */
@Command(
        name = "evenwarm",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description =
                "Watches incubation cabinets: collects from their agents, keeps the history, shows"
                        + " it. Without a command it opens the window.",
        subcommands = {
            WatchCommand.class,
            AgentsCommand.class,
            IdentityCommand.class,
            StoreCommand.class,
            ReadingsCommand.class,
            TubsCommand.class,
            EvennessCommand.class,
            WhatIfCommand.class,
            OutagesCommand.class,
            OutageCommand.class,
            TubCommand.class,
            ProbesCommand.class,
            AirflowCommand.class,
            PlacesCommand.class,
            NoticesCommand.class,
            AlarmsCommand.class,
            DrillCommand.class,
            PageCommand.class,
            DemoCommand.class,
            BenchCommand.class
        },
        exitCodeListHeading = "%nExit codes:%n",
        exitCodeList = {"0:done", "1:the answer is no, or it failed", "2:bad input or usage"})
final class Evenwarm implements Callable<Integer> {

    static final int OK = 0;
    static final int FAILED = 1;
    static final int BAD_INPUT = 2;

    private static final String IDENTITY_FILE = "identity.pem";
    private static final String ANSWER_KEY_FILE = "answer-key";

    @Option(
            names = "--settings",
            paramLabel = "FILE",
            scope = ScopeType.INHERIT,
            description = "the settings; by default ~/.config/evenwarm/monitor.toml")
    private @Nullable Path settingsFile;

    private final Folders folders;
    private final Output output;

    @Option(
            names = "--verbose",
            scope = ScopeType.INHERIT,
            description = "log what happens to standard error")
    void setVerbose(boolean isVerbose) {
        if (isVerbose) {
            Logs.setUp(Level.FINE);
        }
    }

    Evenwarm(Folders folders, Output output) {
        this.folders = folders;
        this.output = output;
    }

    Output output() {
        return output;
    }

    /** The settings; empty when there are faults, which were printed then. */
    Optional<MonitorSettings> settings() {
        Path file = settingsFile == null ? folders.settings() : settingsFile;
        if (settingsFile == null && !Files.exists(file)) {
            output.err()
                    .println(
                            "There are no settings yet: write "
                                    + file
                                    + " (docs/monitor.md lists the keys), or name a file with"
                                    + " --settings. To see the program at work first: evenwarm"
                                    + " demo");
            return Optional.empty();
        }
        return SettingsReader.read(file, folders)
                .fold(
                        accepted -> {
                            print(accepted.warnings());
                            return Optional.of(accepted.value());
                        },
                        rejected -> {
                            print(rejected.errors());
                            print(rejected.warnings());
                            return Optional.empty();
                        });
    }

    /** What a command does by the settings. */
    @FunctionalInterface
    interface Answer {
        /**
         * Does it.
         *
         * @return the exit code
         * @throws IllegalArgumentException when what a person gave is wrong; the message says what
         *     is allowed
         */
        int by(MonitorSettings settings) throws IOException;
    }

    /**
     * Answers by the settings. Faults in them, and what a person gave wrongly, are printed.
     *
     * @return the exit code
     */
    int answer(Answer answer) throws IOException {
        Optional<MonitorSettings> settings = settings();
        if (settings.isEmpty()) {
            return BAD_INPUT;
        }
        try {
            return answer.by(settings.get());
        } catch (IllegalArgumentException e) {
            output.err().println(e.getMessage());
            return BAD_INPUT;
        }
    }

    /**
     * The settings, or what counts while there is no settings file; empty when there are faults.
     */
    Optional<MonitorSettings> settingsOrUsual() {
        return Files.exists(settingsPath())
                ? settings()
                : SettingsReader.parse(settingsPath(), "", folders)
                        .fold(accepted -> Optional.of(accepted.value()), no -> Optional.empty());
    }

    /** Where the settings stand, or would stand. */
    Path settingsPath() {
        return settingsFile == null ? folders.settings() : settingsFile;
    }

    Folders folders() {
        return folders;
    }

    private void print(List<SettingsFault> faults) {
        faults.forEach(fault -> output.err().println(fault.text()));
    }

    /** This monitor's key pair, made at its first use. */
    static Identity identity(MonitorSettings settings) throws IOException {
        Files.createDirectories(settings.dataFolder());
        return Identity.loadOrCreate(settings.dataFolder().resolve(IDENTITY_FILE), settings.name());
    }

    /** Opens the station of the settings and shows it until it ends. */
    int watch(MonitorSettings settings, boolean inTerminal, int everySeconds) throws IOException {
        try (Closing closing = Closing.atExit()) {
            HistoryStore store = settings.openStore();
            closing.add(store::close);
            Identity own = identity(settings);
            Station station =
                    Station.start(
                            settings.name(),
                            store,
                            settings.agents().stream()
                                    .map(entry -> Routes.address(entry, own))
                                    .toList());
            closing.add(station::close);
            Optional<NoticeStation> notices = Optional.empty();
            Optional<AnswerLinks> links = answerLinks(settings, store);
            if (!settings.notices().plan().chain().isEmpty()) {
                NoticeStation there =
                        NoticeStation.start(
                                settings.notices(),
                                settings.unit(),
                                settings.zone(),
                                store.notices(),
                                links.<Post.Answering>map(made -> made::of)
                                        .orElse(Post.Answering.BY_NO_LINK));
                closing.add(there::close);
                notices = Optional.of(there);
            }
            AirWatch air =
                    new AirWatch(
                            store,
                            settings.storeFromOutside(),
                            SystemClock.wall(),
                            settings.zone());
            air.start();
            closing.add(air::close);
            MonitorFacts facts = new MonitorFacts(station.live(), store, notices, air);
            EggWatch eggs =
                    new EggWatch(
                            store,
                            station.live(),
                            () -> Alarms.tubs(settings, true),
                            settings.alarms().timeLeft());
            eggs.start();
            closing.add(eggs::close);
            AlarmKeeper alarms = Alarms.start(settings, station, store, eggs, notices, facts);
            closing.add(alarms::close);
            Drills drills =
                    Drills.start(
                            store.drills(),
                            alarms,
                            station.live(),
                            notices.isPresent(),
                            SystemClock.monotonic(),
                            SystemClock.wall());
            closing.add(drills::close);
            facts.watch(drills);
            if (settings.outsideSwitch().isPresent()) {
                SwitchFeed feed =
                        SwitchFeed.start(
                                settings.outsideSwitch().get(),
                                settings.name(),
                                new ChainWatch(store, alarms, notices));
                closing.add(feed::close);
                facts.watch(feed);
            }
            if (settings.page().isPresent()) {
                PageServer page =
                        PhonePage.start(
                                settings,
                                settings.page().get(),
                                station,
                                new DeskAlarms(new AlarmBoard(alarms)),
                                answers(links, notices, alarms));
                closing.add(page::close);
            }
            OwnRun run = OwnRun.begin(store.runs(), SystemClock.wall());
            closing.add(run::close);
            Upkeep upkeep = new Upkeep(store, settings.retention(), SystemClock.wall());
            upkeep.start();
            closing.add(upkeep::close);
            Ending ending = new Ending();
            closing.add(ending::done);
            Face face =
                    new Face(
                            settings.unit(),
                            settings.zone(),
                            Optional.empty(),
                            everySeconds,
                            output.out(),
                            output.err());
            Face.Desk desk =
                    Face.Desk.of(
                            alarms,
                            store.alarms(),
                            settings.person(),
                            new StoreEvenness(settings.storeFromOutside()),
                            eggs,
                            new OutageHistory(
                                    settings.storeFromOutside(), settings.alarms().timeLeft()));
            Ending.Outcome outcome =
                    inTerminal
                            ? face.showInTerminal(station, desk, ending)
                            : face.show(station, desk, closing, ending, () -> {});
            outcome.words().ifPresent(output.err()::println);
            return outcome.exitCode();
        }
    }

    /** The links in notices; none where no phone reaches a page that they could open. */
    private static Optional<AnswerLinks> answerLinks(MonitorSettings settings, HistoryStore store)
            throws IOException {
        Optional<String> address = settings.page().flatMap(PageSettings::address);
        return address.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        new AnswerLinks(
                                address.get(),
                                OwnSecret.loadOrCreate(
                                        settings.dataFolder().resolve(ANSWER_KEY_FILE)),
                                store.notices(),
                                SystemClock.wall()));
    }

    private static NoticeAnswers answers(
            Optional<AnswerLinks> links, Optional<NoticeStation> notices, AlarmKeeper alarms) {
        return links.flatMap(
                        there ->
                                notices.<NoticeAnswers>map(
                                        told -> new DeskAnswers(there, alarms, told.desk())))
                .orElse(NoticeAnswers.NONE);
    }

    @Override
    public Integer call() throws IOException {
        Optional<MonitorSettings> settings = settings();
        return settings.isPresent()
                ? watch(settings.get(), false, WatchCommand.EVERY_SECONDS)
                : BAD_INPUT;
    }
}
