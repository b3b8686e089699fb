package io.evenwarm.monitor.view;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.WallClock;
import io.evenwarm.monitor.history.HistoryQueries;
import io.evenwarm.monitor.live.CommandSender;
import io.evenwarm.monitor.live.LiveView;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.ZoneId;
import java.util.Optional;

/**
 * All that the window needs from the rest of the monitor.
 *
 * @param live what is known now; asked a few times a second by the window's own worker
 * @param history what was; asked by the window's own worker, never by its drawing thread
 * @param commands where a person's commands go
 * @param alarms what wants attention; asked by a worker of the window's own
 * @param evenness what is known beside the history when evenness is judged
 * @param eggs the cabinets' eggs by their models
 * @param outages what the cabinets went through; asked by a worker of the window's own
 * @param unit the unit in which the window opens; the person may switch it there
 * @param zone the zone of every time that is shown, named beside them
 * @param monotonic measures durations
 * @param wall the monitor's own time of day, used where no cabinet tells a time
 * @param banner one line that stays at the top, for example that the cabinets are simulated
 * @param onClosed runs once on the window's thread after the window was closed, by whomever; must
 *     return soon
 */
public record WindowContext(
        LiveView live,
        HistoryQueries history,
        CommandSender commands,
        WindowAlarms alarms,
        WindowEvenness evenness,
        WindowEggs eggs,
        WindowOutages outages,
        TemperatureUnit unit,
        ZoneId zone,
        MonotonicClock monotonic,
        WallClock wall,
        Optional<String> banner,
        Runnable onClosed) {

    /** Where nothing is known of probes beside what they read, and no models are at work. */
    public WindowContext(
            LiveView live,
            HistoryQueries history,
            CommandSender commands,
            WindowAlarms alarms,
            TemperatureUnit unit,
            ZoneId zone,
            MonotonicClock monotonic,
            WallClock wall,
            Optional<String> banner,
            Runnable onClosed) {
        this(
                live,
                history,
                commands,
                alarms,
                WindowEvenness.NONE,
                WindowEggs.NONE,
                WindowOutages.NONE,
                unit,
                zone,
                monotonic,
                wall,
                banner,
                onClosed);
    }

    WindowContext withEvenness(WindowEvenness other) {
        return new WindowContext(
                live, history, commands, alarms, other, eggs, outages, unit, zone, monotonic, wall,
                banner, onClosed);
    }

    WindowContext withEggs(WindowEggs other) {
        return new WindowContext(
                live, history, commands, alarms, evenness, other, outages, unit, zone, monotonic,
                wall, banner, onClosed);
    }

    WindowContext withOutages(WindowOutages other) {
        return new WindowContext(
                live, history, commands, alarms, evenness, eggs, other, unit, zone, monotonic, wall,
                banner, onClosed);
    }
}
