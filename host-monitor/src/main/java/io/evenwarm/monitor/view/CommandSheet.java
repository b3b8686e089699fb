package io.evenwarm.monitor.view;

import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Duration;
import java.util.Locale;
import java.util.Optional;
import java.util.function.BiConsumer;
import java.util.function.Consumer;
import javafx.geometry.Pos;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.RadioButton;
import javafx.scene.control.TextField;
import javafx.scene.control.ToggleGroup;
import javafx.scene.input.KeyCode;
import javafx.scene.input.KeyEvent;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Region;
import javafx.scene.layout.StackPane;
import javafx.scene.layout.VBox;

/**
 * Asks a person once more before a command goes out, and shows what the agent answered. Lies in
 * front of the window; nothing behind it can be used meanwhile.
 */
final class CommandSheet extends StackPane {

    /** As the alarm log takes it. */
    private static final int REASON_MAX = 200;

    private final VBox sheet = new VBox();
    private final BiConsumer<CabinetKey, Command> onSend;
    private final Consumer<Boolean> onOpen;
    private Optional<CabinetKey> waitingFor = Optional.empty();

    /**
     * @param onOpen told true when the sheet opens and false when it closes
     */
    CommandSheet(BiConsumer<CabinetKey, Command> onSend, Consumer<Boolean> onOpen) {
        this.onSend = onSend;
        this.onOpen = onOpen;
        getStyleClass().add("veil");
        sheet.getStyleClass().add("sheet");
        sheet.setMaxHeight(Region.USE_PREF_SIZE);
        getChildren().add(sheet);
        addEventHandler(
                KeyEvent.KEY_PRESSED,
                event -> {
                    if (event.getCode() == KeyCode.ESCAPE) {
                        close();
                        event.consume();
                    }
                });
        Nodes.show(this, false);
    }

    void askSetPoint(CabinetKey key, WindowModel.Commands may, TemperatureUnit unit) {
        TextField field = new TextField(unit.format(may.setPoint(), 1).split(" ", 2)[0]);
        field.getStyleClass().add("field");
        field.setId("set-point-field");
        field.setAccessibleText("New set point in " + unit.symbol());
        Label checked = Nodes.wrapping("");
        Button send = new Button("Send to the agent");
        send.setId("send");
        send.getStyleClass().add("main");
        send.setDefaultButton(true);
        Runnable check =
                () -> {
                    SetPointInput input = SetPointInput.of(field.getText(), may, unit);
                    checked.setText(input.words());
                    send.setDisable(input.setPoint().isEmpty());
                };
        field.textProperty().addListener((its, before, now) -> check.run());
        check.run();
        send.setOnAction(
                event ->
                        SetPointInput.of(field.getText(), may, unit)
                                .setPoint()
                                .ifPresent(
                                        setPoint ->
                                                send(
                                                        key,
                                                        new Command.SetSetPoint(
                                                                key.cabinet(), setPoint),
                                                        "Change the set point of "
                                                                + key.cabinet())));
        HBox entry = new HBox(8, field, Nodes.label(unit.symbol(), "number-unit"));
        entry.setAlignment(Pos.CENTER_LEFT);
        open(
                Nodes.wrapping("Change the set point of " + key.cabinet(), "title"),
                Nodes.wrapping("Now " + unit.format(may.setPoint(), 1) + ". New set point:"),
                entry,
                checked,
                buttons(send, "Leave it at " + unit.format(may.setPoint(), 1)));
        field.requestFocus();
        field.selectAll();
    }

    void askReset(CabinetKey key, Temperature cutOff, TemperatureUnit unit) {
        Button send = new Button("Reset the cut-off");
        send.setId("send");
        send.getStyleClass().add("grave");
        send.setOnAction(
                event ->
                        send(
                                key,
                                new Command.ResetCutOff(key.cabinet()),
                                "Reset the cut-off of " + key.cabinet()));
        open(
                Nodes.wrapping("Reset the cut-off of " + key.cabinet(), "title"),
                Nodes.wrapping(
                        "It trips at "
                                + unit.format(cutOff, 1)
                                + " and stays tripped until a person resets it. After a reset the"
                                + " heater may come on again."),
                Nodes.wrapping(
                        "Find the cause first: look at the heater relay, the fan, the probes and"
                                + " the door.",
                        "strong"),
                buttons(send, "Leave it off"));
    }

    /**
     * Asks for how long an alarm is to be quiet, and why; whoever comes next must know it.
     *
     * @param onShelve told the span, which is empty for until further notice, and the reason
     */
    void askShelf(String what, BiConsumer<Optional<Duration>, String> onShelve) {
        ToggleGroup spans = new ToggleGroup();
        VBox choices = new VBox(6);
        for (ShelfSpan span : ShelfSpan.values()) {
            RadioButton choice = new RadioButton(span.words());
            choice.setId("shelf-" + span.name().toLowerCase(Locale.ROOT).replace('_', '-'));
            choice.setUserData(span);
            choice.setToggleGroup(spans);
            choice.setSelected(span == ShelfSpan.HALF_AN_HOUR);
            choices.getChildren().add(choice);
        }
        TextField reason = new TextField();
        reason.getStyleClass().add("words-field");
        reason.setId("shelf-reason");
        reason.setAccessibleText("Why");
        Button shelve = new Button("Shelve");
        shelve.setId("send");
        shelve.getStyleClass().add("main");
        shelve.setDefaultButton(true);
        Runnable check = () -> shelve.setDisable(!isReason(reason.getText()));
        reason.textProperty().addListener((its, before, now) -> check.run());
        check.run();
        shelve.setOnAction(
                event -> {
                    ShelfSpan span = (ShelfSpan) spans.getSelectedToggle().getUserData();
                    String why = reason.getText().strip();
                    close();
                    onShelve.accept(span.length(), why);
                });
        open(
                Nodes.wrapping("Shelve: " + what, "title"),
                Nodes.wrapping(
                        "Nobody is told of it meanwhile, and it explains no other alarm. For how"
                                + " long?"),
                choices,
                Nodes.wrapping("Why? It stands in the log for whoever comes next."),
                reason,
                buttons(shelve, "Leave it in view"));
        reason.requestFocus();
    }

    private static boolean isReason(String text) {
        return !text.isBlank() && text.strip().length() <= REASON_MAX;
    }

    /** What came of the command; shown where the sheet still waits for it. */
    void answered(CabinetKey key, CommandOutcome outcome) {
        if (!waitingFor.equals(Optional.of(key))) {
            return;
        }
        waitingFor = Optional.empty();
        boolean done = outcome.fold(its -> true, its -> false);
        HBox answer =
                new HBox(
                        Nodes.state(done ? CardState.Shape.DISC : CardState.Shape.TRIANGLE),
                        Nodes.wrapping(
                                (done ? "Done: " : "Refused: ") + outcome.words(), "strong"));
        answer.getStyleClass().add("answer");
        answer.setId("answer");
        Button close = closeButton("Close");
        open(
                Nodes.wrapping(key.cabinet().value(), "title"),
                Nodes.wrapping("The agent " + key.agent() + " answered:"),
                answer,
                right(close));
        close.requestFocus();
    }

    boolean isOpen() {
        return isVisible();
    }

    private void send(CabinetKey key, Command command, String title) {
        waitingFor = Optional.of(key);
        Button close = closeButton("Close without waiting");
        open(
                Nodes.wrapping(title, "title"),
                Nodes.wrapping("Sent. Waiting for the answer of " + key.agent() + "…"),
                right(close));
        close.requestFocus();
        onSend.accept(key, command);
    }

    private void open(javafx.scene.Node... content) {
        sheet.getChildren().setAll(content);
        Nodes.show(this, true);
        onOpen.accept(true);
    }

    private void close() {
        waitingFor = Optional.empty();
        Nodes.show(this, false);
        onOpen.accept(false);
    }

    private HBox buttons(Button main, String leave) {
        Button cancel = closeButton(leave);
        HBox row = new HBox(8, Nodes.filler(), cancel, main);
        row.setAlignment(Pos.CENTER_RIGHT);
        return row;
    }

    private Button closeButton(String words) {
        Button close = new Button(words);
        close.setId("close-sheet");
        close.setCancelButton(true);
        close.setOnAction(event -> close());
        return close;
    }

    private static HBox right(Button button) {
        return new HBox(8, Nodes.filler(), button);
    }
}
