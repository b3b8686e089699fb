package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.link.Identity;
import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.alert.AlarmKeeper;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.intake.AgentAddress;
import io.evenwarm.monitor.store.HistoryStore;
import io.evenwarm.monitor.store.StoreException;
import io.evenwarm.monitor.store.StoreFile;
import io.evenwarm.monitor.store.StoreOutside;
import io.evenwarm.quantity.TemperatureUnit;
import io.evenwarm.settings.NumberRange;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/**
 * The whole chain on simulated cabinets: an agent in a second process, a link over TLS, a store,
 * and a window or a terminal. Leaves nothing behind.
 */
final class Demo {

    private static final System.Logger LOG = System.getLogger(Demo.class.getName());
    private static final int EVERY_SECONDS = 3;
    private static final long SEED = 7;
    private static final long POLL_MILLIS = 50;
    private static final int POINTS_OF_A_LINE = 2;

    /**
     * What was asked for.
     *
     * @param agent the agent's start script
     * @param speed simulated seconds a second
     * @param pastDays how many days of an invented past there are; 0 for none
     * @param secondsMax ends by itself after so long, where that is given
     * @param endsWithParent whether to end when the process that started this one has ended
     * @param isHeadless whether to stay in the terminal
     * @param showsTimings whether to print how long the first curve took
     */
    record Wish(
            Path agent,
            double speed,
            int pastDays,
            Optional<Duration> secondsMax,
            boolean endsWithParent,
            boolean isHeadless,
            boolean showsTimings) {}

    private final Wish wish;
    private final Output output;

    Demo(Wish wish, Output output) {
        this.wish = wish;
        this.output = output;
    }

    /** Runs until something ends it; returns the exit code. */
    int run() throws IOException {
        Ending ending = new Ending();
        try (Closing closing = Closing.atExit()) {
            if (wish.endsWithParent) {
                Watchers.endWithParent(ending);
            }
            wish.secondsMax.ifPresent(most -> Watchers.endAfter(most, ending));
            DemoFolder folder = DemoFolder.create(Path.of(System.getProperty("java.io.tmpdir")));
            closing.add(folder::delete);
            Identity own = Identity.create("demo monitor");
            AgentProcess agent = startAgent(folder.path(), own);
            sinceStart("agent begun");
            closing.add(agent::stop);
            agent.onUnexpectedEnd(ending::failed);
            HistoryStore store = HistoryStore.open(folder.path().resolve("monitor"));
            closing.add(store::close);
            StoreOutside outside = new StoreFile(folder.path().resolve("monitor"));
            Instant begin = SystemClock.wall().now();
            outside.addProbeEntries(InventedChecks.of(begin));
            List<Tub> tubs = DemoTubs.of(begin.minus(Duration.ofDays(wish.pastDays)), begin);
            keep(tubs, outside);
            Optional<InventedPast> past =
                    wish.pastDays > 0
                            ? Optional.of(
                                    new InventedPast(
                                            store,
                                            new AgentName(DemoConfiguration.AGENT_NAME),
                                            begin))
                            : Optional.empty();
            past.ifPresent(there -> closing.add(there::stop));
            Station station =
                    Station.start(
                            "demo monitor",
                            store,
                            List.of(
                                    new AgentAddress(
                                            new AgentName(DemoConfiguration.AGENT_NAME),
                                            "the demo's agent",
                                            () -> connect(agent, own))));
            closing.add(station::close);
            EggWatch eggs =
                    new EggWatch(store, station.live(), () -> tubs, AlarmPlan.DEFAULT.timeLeft());
            closing.add(eggs::close);
            AirWatch air = new AirWatch(store, outside, SystemClock.wall(), ZoneId.systemDefault());
            closing.add(air::close);
            AlarmKeeper alarms =
                    Alarms.startWithoutNotices(
                            Set.of(new AgentName(DemoConfiguration.AGENT_NAME)),
                            station,
                            store,
                            eggs,
                            air);
            closing.add(alarms::close);
            closing.add(ending::done);
            Watchers.daemon(
                    "invented past",
                    () -> {
                        if (past.isPresent()) {
                            tell(past.get(), folder.path(), begin, station, ending, air);
                        } else {
                            air.start();
                        }
                        // A model that was tried before would not be tried again for minutes.
                        eggs.start();
                    });
            Ending.Outcome outcome =
                    show(
                            station,
                            Face.Desk.of(
                                    alarms,
                                    store.alarms(),
                                    Optional.empty(),
                                    new StoreEvenness(outside),
                                    eggs,
                                    new OutageHistory(outside, AlarmPlan.DEFAULT.timeLeft())),
                            closing,
                            ending);
            outcome.words().ifPresent(output.err()::println);
            return outcome.exitCode();
        }
    }

    private AgentProcess startAgent(Path folder, Identity own) throws IOException {
        Path configuration = configuration(folder);
        Files.writeString(
                configuration,
                DemoConfiguration.text(own.pin(), folder.resolve("agent"), wish.speed, SEED));
        return AgentProcess.start(wish.agent, configuration, folder.resolve("agent.log"));
    }

    /** As a person would do it, so that every view finds them. */
    private static void keep(List<Tub> tubs, StoreOutside outside) throws StoreException {
        for (Tub tub : tubs) {
            outside.addTub(tub);
            if (tub.to().isPresent()) {
                outside.endTub(tub.name(), tub.to().get());
            }
        }
    }

    /** Begins once the first curve is there, so that nobody waits for the past. */
    private void tell(
            InventedPast past,
            Path folder,
            Instant until,
            Station station,
            Ending ending,
            AirWatch air) {
        awaitLine(station.history(), ending);
        try {
            past.tell(
                    wish.agent,
                    configuration(folder),
                    wish.pastDays,
                    until,
                    folder.resolve("past.log"));
            String words = sinceStart("invented past");
            if (wish.showsTimings) {
                output.err().println(words);
            }
        } catch (IOException e) {
            if (ending.await(0).isEmpty()) {
                output.err().println("There is no invented past: " + e.getMessage());
            }
        }
        // Not sooner: each stretch of a long record is read once.
        air.start();
    }

    private static Path configuration(Path folder) {
        return folder.resolve("agent.toml");
    }

    private static Link connect(AgentProcess agent, Identity own) throws LinkException {
        try {
            AgentProcess.Announcement there = agent.awaitReady();
            sinceStart("agent ready");
            return Routes.connect(new Route.Tls("127.0.0.1", there.port(), there.key()), own);
        } catch (LinkException e) {
            throw e;
        } catch (IOException e) {
            throw new LinkException(String.valueOf(e.getMessage()), e);
        }
    }

    private Ending.Outcome show(Station station, Face.Desk desk, Closing closing, Ending ending) {
        Face face =
                new Face(
                        TemperatureUnit.CELSIUS,
                        ZoneId.systemDefault(),
                        Optional.of(banner(wish.speed, wish.pastDays)),
                        EVERY_SECONDS,
                        output.out(),
                        output.err());
        boolean isInTerminal =
                wish.isHeadless
                        || Face.missingDisplay(System.getenv(), System.getProperty("os.name"))
                                .isPresent();
        if (isInTerminal) {
            // Nobody draws there: what counts is when a window could.
            Watchers.daemon("first curve", () -> awaitFirstCurve(station.history(), ending));
        }
        return wish.isHeadless
                ? face.showInTerminal(station, desk, ending)
                : face.show(station, desk, closing, ending, this::firstCurve);
    }

    private void awaitFirstCurve(HistoryQueries history, Ending ending) {
        if (awaitLine(history, ending)) {
            firstCurve();
        }
    }

    /** Waits until there is something to draw; whether it came. */
    private static boolean awaitLine(HistoryQueries history, Ending ending) {
        try {
            while (ending.await(POLL_MILLIS).isEmpty()) {
                for (CabinetKey cabinet : history.cabinets()) {
                    if (hasLine(history, cabinet)) {
                        return true;
                    }
                }
            }
        } catch (UncheckedIOException closed) {
            // The demo ended before its first curve.
            LOG.log(System.Logger.Level.DEBUG, "no first curve: {0}", closed.getMessage());
        }
        return false;
    }

    private static boolean hasLine(HistoryQueries history, CabinetKey cabinet) {
        Optional<TimeSpan> extent = history.extent(cabinet);
        return extent.isPresent()
                && history.curves(cabinet, extent.get()).probes().stream()
                        .anyMatch(probe -> probe.curve().size() >= POINTS_OF_A_LINE);
    }

    private void firstCurve() {
        String words = sinceStart("first curve");
        if (wish.showsTimings) {
            output.err().println(words);
        }
    }

    /** Says in the log how long after this process's start something came to be. */
    private static String sinceStart(String what) {
        long begin = ManagementFactory.getRuntimeMXBean().getStartTime();
        long millis = SystemClock.wall().now().toEpochMilli() - begin;
        String words = String.format(Locale.ROOT, "%s after %.1f s", what, millis / 1000.0);
        LOG.log(System.Logger.Level.DEBUG, words);
        return words;
    }

    static String banner(double speed, int pastDays) {
        String invented =
                "Simulated cabinets: names and numbers are invented"
                        + (pastDays > 0 ? ", and so are the " + pastDays + " days before" : "");
        return speed == 1
                ? invented
                : invented + ". Time runs " + NumberRange.plain(speed) + "× faster";
    }
}
