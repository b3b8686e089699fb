package io.evenwarm.monitor.view;

import io.evenwarm.message.Command;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.live.CommandSender;
import io.evenwarm.quantity.TemperatureUnit;
import java.util.concurrent.CompletableFuture;
import java.util.function.Consumer;

/**
 * Asks a person what a cabinet's agent is to do, sends it and shows the answer. Belongs to the
 * window's thread.
 */
final class CommandDesk {

    private final CommandSender sender;
    private final ThrottledDoor door;
    private final Runnable onAnswer;
    private final CommandSheet sheet;

    /**
     * @param onOpen is told whether the sheet is open
     * @param onAnswer runs on any thread once an answer waits at the door
     */
    CommandDesk(
            CommandSender sender, ThrottledDoor door, Consumer<Boolean> onOpen, Runnable onAnswer) {
        this.sender = sender;
        this.door = door;
        this.onAnswer = onAnswer;
        sheet = new CommandSheet(this::send, onOpen);
    }

    CommandSheet sheet() {
        return sheet;
    }

    boolean isAsking() {
        return sheet.isOpen();
    }

    /** Asks for another set point, where the chosen cabinet's agent can be asked. */
    void askSetPoint(WindowModel.Detail chosen, TemperatureUnit unit) {
        chosen.commands().ifPresent(may -> sheet.askSetPoint(chosen.card().key(), may, unit));
    }

    /** Asks for the reset of its cut-off, where that has tripped. */
    void askReset(WindowModel.Detail chosen, TemperatureUnit unit) {
        chosen.commands()
                .filter(WindowModel.Commands::mayReset)
                .ifPresent(may -> sheet.askReset(chosen.card().key(), may.limits().cutOff(), unit));
    }

    private void send(CabinetKey key, Command command) {
        // The future never fails; its end is the only thing that is waited for.
        CompletableFuture<Void> unused =
                sender.send(key.agent(), command)
                        .thenAccept(
                                outcome -> {
                                    door.put(
                                            ThrottledDoor.Slot.ANSWER,
                                            () -> sheet.answered(key, outcome));
                                    onAnswer.run();
                                });
    }
}
