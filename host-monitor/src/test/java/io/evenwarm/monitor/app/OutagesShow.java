package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.monitor.Journal;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Tub;
import io.evenwarm.monitor.live.AgentState;
import io.evenwarm.monitor.live.LiveCabinet;
import io.evenwarm.monitor.live.LiveView;
import io.evenwarm.monitor.store.StoreFile;
import io.evenwarm.monitor.view.MonitorWindow;
import io.evenwarm.monitor.view.WindowAlarms;
import io.evenwarm.monitor.view.WindowContext;
import io.evenwarm.monitor.view.WindowEggs;
import io.evenwarm.monitor.view.WindowEvenness;
import io.evenwarm.monitor.view.WindowUnavailableException;
import io.evenwarm.quantity.TemperatureUnit;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import javafx.application.Platform;
import javafx.scene.control.ButtonBase;
import javafx.stage.Window;

/**
 * Opens the real window on the store of an invented cabinet whose mains were off for five hours of
 * a night, at the review of that, to be looked at by a person. Not a test.
 */
final class OutagesShow {

    private static final int DAY_MINUTES = 1440;

    private OutagesShow() {}

    /** Nothing is heard of any cabinet: all that there is stands in the store. */
    private record Silence(List<LiveCabinet> cabinets, List<AgentState> agents)
            implements LiveView {}

    public static void main(String[] arguments)
            throws IOException, WindowUnavailableException, InterruptedException {
        Path data = Files.createTempDirectory("evenwarm-outages-show");
        LivedHistory lived = new LivedHistory(LivedHistory.Probe.ROOM);
        lived.minutes(9 * DAY_MINUTES, LivedHistory.Happens.LIVES);
        lived.minutes(300, LivedHistory.Happens.DARK);
        lived.startsAfterThePowerFailed();
        lived.minutes(600, LivedHistory.Happens.LIVES);
        lived.store(data);
        StoreFile store = new StoreFile(data);
        for (String shelf : List.of("top", "bottom")) {
            store.addTub(
                    new Tub(
                            "invented " + shelf,
                            new CabinetKey(LivedCabinet.AGENT, Journal.NORTH),
                            shelf,
                            1500,
                            "6 eggs, an invented clutch",
                            Journal.EPOCH,
                            Optional.empty()));
        }
        MonitorWindow.open(
                new WindowContext(
                        new Silence(List.of(), List.of()),
                        store.history(),
                        (agent, command) ->
                                CompletableFuture.completedFuture(
                                        new CommandOutcome.Refused("nobody is there")),
                        WindowAlarms.NONE,
                        WindowEvenness.NONE,
                        WindowEggs.NONE,
                        new DeskOutages(new OutageHistory(store, AlarmPlan.DEFAULT.timeLeft())),
                        TemperatureUnit.CELSIUS,
                        ZoneId.of("Europe/Berlin"),
                        SystemClock.monotonic(),
                        SystemClock.wall(),
                        Optional.of("An invented cabinet, invented data"),
                        () -> {}));
        AtomicBoolean isPressed = new AtomicBoolean();
        while (!isPressed.get()) {
            TimeUnit.SECONDS.sleep(1);
            Platform.runLater(
                    () -> {
                        if (Window.getWindows().get(0).getScene().lookup("#outages")
                                instanceof ButtonBase button) {
                            button.fire();
                            isPressed.set(true);
                        }
                    });
        }
    }
}
