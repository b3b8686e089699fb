package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.alert.AlarmBoard;
import io.evenwarm.monitor.alert.AlarmKeeper;
import io.evenwarm.monitor.alert.AlarmStore;
import io.evenwarm.monitor.view.MonitorWindow;
import io.evenwarm.monitor.view.WindowAlarms;
import io.evenwarm.monitor.view.WindowContext;
import io.evenwarm.monitor.view.WindowEggs;
import io.evenwarm.monitor.view.WindowEvenness;
import io.evenwarm.monitor.view.WindowOutages;
import io.evenwarm.monitor.view.WindowUnavailableException;
import io.evenwarm.quantity.TemperatureUnit;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.time.ZoneId;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * Shows a running station until it ends: in a window where there is a display, else in the
 * terminal.
 *
 * @param unit of temperatures
 * @param zone of times
 * @param banner what always stands above, where there is something to say
 * @param everySeconds time between status lines
 * @param out where status lines go
 * @param err where notes go
 */
record Face(
        TemperatureUnit unit,
        ZoneId zone,
        Optional<String> banner,
        int everySeconds,
        PrintStream out,
        PrintStream err) {

    private static final System.Logger LOG = System.getLogger(Face.class.getName());

    /**
     * The alarms behind what is shown.
     *
     * @param forWindow the same, as the window takes them
     * @param evenness what is known beside the history when evenness is judged
     * @param eggs the cabinets' eggs by their models
     * @param outages what the cabinets went through
     */
    record Desk(
            AlarmKeeper keeper,
            WindowAlarms forWindow,
            WindowEvenness evenness,
            WindowEggs eggs,
            WindowOutages outages) {

        /**
         * @param person who acts at the window; empty for whoever runs it
         */
        static Desk of(
                AlarmKeeper keeper,
                AlarmStore log,
                Optional<String> person,
                WindowEvenness evenness,
                EggWatch models,
                OutageHistory outages) {
            AlarmBoard board = new AlarmBoard(keeper);
            return new Desk(
                    keeper,
                    new DeskWindowAlarms(board, log, person.orElseGet(DeskWindowAlarms::account)),
                    evenness,
                    new DeskEggs(board, models),
                    new DeskOutages(outages));
        }
    }

    /** In a window if one can be opened, else in the terminal, saying so in one line. */
    Ending.Outcome show(
            Station station, Desk desk, Closing closing, Ending ending, Runnable onFirstCurve) {
        Optional<String> missing = missingDisplay(System.getenv(), System.getProperty("os.name"));
        if (missing.isPresent()) {
            err.println(missing.get() + " Running in the terminal; Ctrl-C ends.");
            return showInTerminal(station, desk, ending);
        }
        try {
            MonitorWindow window =
                    MonitorWindow.open(
                            new WindowContext(
                                    station.live(),
                                    station.history(),
                                    station.commands(),
                                    desk.forWindow(),
                                    desk.evenness(),
                                    desk.eggs(),
                                    desk.outages(),
                                    unit,
                                    zone,
                                    SystemClock.monotonic(),
                                    SystemClock.wall(),
                                    banner,
                                    ending::done),
                            onFirstCurve);
            LOG.log(System.Logger.Level.DEBUG, "the window is open");
            closing.add(() -> standStill(window, closing));
            Ending.Outcome outcome = ending.await();
            if (!closing.isJvmEnding()) {
                window.close();
            }
            return outcome;
        } catch (WindowUnavailableException e) {
            err.println(e.getMessage() + " Running in the terminal; Ctrl-C ends.");
            return showInTerminal(station, desk, ending);
        }
    }

    /**
     * In the way out of the whole JVM the toolkit ends by a hook of its own, and what it was
     * drawing just then fails and prints stacks that tell a person nothing. Our own words and logs
     * don't pass through this stream any more.
     */
    private static void standStill(MonitorWindow window, Closing closing) {
        window.standStill();
        if (closing.isJvmEnding()) {
            System.setErr(
                    new PrintStream(
                            OutputStream.nullOutputStream(), false, StandardCharsets.UTF_8));
        }
    }

    Ending.Outcome showInTerminal(Station station, Desk desk, Ending ending) {
        banner.ifPresent(out::println);
        AlarmLines alarms = new AlarmLines(zone);
        desk.keeper().onChange(alarms::add);
        alarms.open(new AlarmBoard(desk.keeper()).open()).forEach(out::println);
        return new Terminal(out, new StatusLines(unit, zone), alarms, everySeconds)
                .run(station.live(), ending);
    }

    /**
     * JavaFX on Linux draws through X11, which XWayland offers too; elsewhere it is always there.
     */
    static Optional<String> missingDisplay(Map<String, String> environment, String system) {
        boolean isLinux = system.toLowerCase(Locale.ROOT).contains("linux");
        return isLinux && environment.getOrDefault("DISPLAY", "").isEmpty()
                ? Optional.of(
                        environment.containsKey("WAYLAND_DISPLAY")
                                ? "No X display here (DISPLAY is not set; on Wayland XWayland"
                                        + " offers one)."
                                : "No display here (DISPLAY is not set).")
                : Optional.empty();
    }
}
