package io.evenwarm.monitor.view;

import io.evenwarm.monitor.view.AlarmsModel.May;
import io.evenwarm.monitor.view.AlarmsModel.Row;
import java.util.Optional;
import javafx.geometry.Pos;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.StackPane;
import javafx.scene.layout.VBox;

/** One alarm, with what a person may do about it. Changes in place, so that focus stays. */
final class AlarmRow extends HBox {

    private static final double BUTTON_WIDTH = 112;

    /** What a person does about an alarm. */
    interface Hands {
        void acknowledge(String id);

        /** With all others of its cause. */
        void acknowledgeCause(String id);

        void reset(String id);

        /** Asks for how long and why. */
        void shelve(Row row);

        void unshelve(String id);

        void returnToService(String id);
    }

    private final StackPane shape = new StackPane();
    private final Label headline = Nodes.whole("", "heading");
    private final Label subject = Nodes.label("", "strong");
    private final Label standing = Nodes.whole("", "small");
    private final Label timeLeft = Nodes.whole("", "strong");
    private final Label advice = Nodes.wrapping("", "strong");
    private final Label evidence = Nodes.wrapping("");
    private final Label since = Nodes.label("", "small", "quiet");
    private final Label putAway = Nodes.wrapping("", "small");
    private final Button acknowledge = button("Acknowledge", "acknowledge");
    private final Button cause = button("", "acknowledge-cause");
    private final Button reset = button("Reset", "reset-alarm");
    private final Button shelve = button("Shelve…", "shelve");
    private final Button back = button("", "bring-back");
    private Optional<Row> shown = Optional.empty();

    AlarmRow(Hands hands) {
        getStyleClass().add("alarm");
        acknowledge.getStyleClass().add("main");
        acknowledge.setOnAction(event -> shown.ifPresent(row -> hands.acknowledge(row.id())));
        cause.setOnAction(event -> shown.ifPresent(row -> hands.acknowledgeCause(row.id())));
        reset.setOnAction(event -> shown.ifPresent(row -> hands.reset(row.id())));
        shelve.setOnAction(event -> shown.ifPresent(hands::shelve));
        back.setOnAction(
                event ->
                        shown.ifPresent(
                                row -> {
                                    if (row.may().contains(May.RETURN_TO_SERVICE)) {
                                        hands.returnToService(row.id());
                                    } else {
                                        hands.unshelve(row.id());
                                    }
                                }));
        HBox head = new HBox(8, shape, headline, subject, Nodes.filler(), timeLeft);
        head.setAlignment(Pos.CENTER_LEFT);
        HBox second = new HBox(8, standing, since);
        second.setAlignment(Pos.CENTER_LEFT);
        VBox text = new VBox(2, head, second, putAway, advice, evidence);
        HBox.setHgrow(text, Priority.ALWAYS);
        VBox buttons = new VBox(4, acknowledge, cause, reset, shelve, back);
        buttons.setMinWidth(BUTTON_WIDTH);
        Nodes.hint(acknowledge, "I have seen it");
        Nodes.hint(cause, "I have seen all that has this cause");
        Nodes.hint(reset, "I have looked at the cabinet: ends the latch");
        Nodes.hint(shelve, "Put it away for a while, with a reason");
        getChildren().addAll(text, buttons);
    }

    private static Button button(String words, String id) {
        Button button = new Button(words);
        button.setId(id);
        button.setMaxWidth(Double.MAX_VALUE);
        button.setMinWidth(Region.USE_PREF_SIZE);
        return button;
    }

    void show(Row row) {
        if (shown.equals(Optional.of(row))) {
            return;
        }
        boolean isOtherShape = !shown.map(Row::shape).equals(Optional.of(row.shape()));
        shown = Optional.of(row);
        if (isOtherShape) {
            shape.getChildren().setAll(Nodes.state(row.shape()));
        }
        boolean isQuiet = !row.putAway().isEmpty();
        Nodes.style(this, "fresh", row.isNew());
        Nodes.style(this, "put-away", isQuiet);
        Nodes.text(headline, row.headline());
        Nodes.text(subject, row.subject());
        Nodes.text(standing, row.standing());
        Nodes.text(timeLeft, row.timeLeft());
        Nodes.text(since, row.since());
        Nodes.text(putAway, row.putAway());
        Nodes.show(putAway, isQuiet);
        Nodes.text(advice, "Do first: " + row.advice());
        Nodes.show(advice, !isQuiet && !row.advice().isBlank());
        Nodes.text(evidence, row.evidence());
        Nodes.show(evidence, !isQuiet && !row.evidence().isBlank());
        Nodes.show(acknowledge, row.isNew());
        Nodes.show(cause, row.isNew() && row.ofCause() > 1);
        String ofCause = "All " + row.ofCause() + " of this cause";
        if (!cause.getText().equals(ofCause)) {
            cause.setText(ofCause);
        }
        Nodes.show(reset, row.may().contains(May.RESET));
        Nodes.show(shelve, row.may().contains(May.SHELVE));
        boolean isOut = row.may().contains(May.RETURN_TO_SERVICE);
        Nodes.show(back, isOut || row.may().contains(May.UNSHELVE));
        back.setText(isOut ? "Return to service" : "Unshelve");
        String about = " " + row.headline() + ", " + row.subject();
        acknowledge.setAccessibleText("Acknowledge" + about);
        cause.setAccessibleText(
                "Acknowledge all " + row.ofCause() + " alarms of this cause," + about);
        reset.setAccessibleText("Reset, I have looked at the cabinet:" + about);
        shelve.setAccessibleText("Shelve" + about);
        back.setAccessibleText(back.getText() + about);
        setAccessibleText(row.spoken());
    }
}
