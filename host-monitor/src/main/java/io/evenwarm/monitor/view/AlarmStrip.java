package io.evenwarm.monitor.view;

import io.evenwarm.monitor.view.AlarmsModel.Row;
import java.util.Optional;
import java.util.function.Consumer;
import javafx.geometry.Pos;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Region;
import javafx.scene.layout.StackPane;

/** The most pressing alarm in one line above everything, and the way to all of them. */
final class AlarmStrip extends HBox {

    private final StackPane shape = new StackPane();
    private final Label standing = Nodes.whole("", "small");
    private final Label what = Nodes.label("", "heading");
    private final Label lasting = Nodes.label("");
    private final Label timeLeft = Nodes.whole("", "strong");
    private final Button acknowledge = new Button("Acknowledge");
    private final Button all = new Button();
    private Optional<Row> shown = Optional.empty();

    AlarmStrip(Consumer<String> onAcknowledge, Runnable onAll) {
        getStyleClass().add("alarm-strip");
        setId("alarm-strip");
        acknowledge.setId("acknowledge-first");
        acknowledge.getStyleClass().add("main");
        acknowledge.setMinWidth(Region.USE_PREF_SIZE);
        acknowledge.setOnAction(event -> shown.ifPresent(row -> onAcknowledge.accept(row.id())));
        all.setId("all-alarms");
        all.setMinWidth(Region.USE_PREF_SIZE);
        all.setOnAction(event -> onAll.run());
        Nodes.hint(all, "All alarms, what to do, and their log (A)");
        setAlignment(Pos.CENTER_LEFT);
        getChildren()
                .addAll(shape, standing, what, lasting, timeLeft, Nodes.filler(), acknowledge, all);
        fill(Optional.empty());
    }

    private void fill(Optional<Row> first) {
        shown = first;
        shape.getChildren().setAll(Nodes.state(first.map(Row::shape).orElse(CardState.Shape.DOT)));
        Nodes.text(standing, first.map(Row::standing).orElse(""));
        Nodes.text(
                what,
                first.map(row -> row.headline() + ", " + row.subject()).orElse("No open alarm"));
        Nodes.text(lasting, first.map(Row::lasting).orElse(""));
        Nodes.text(timeLeft, first.map(Row::timeLeft).orElse(""));
        Nodes.show(timeLeft, first.filter(row -> !row.timeLeft().isEmpty()).isPresent());
        Nodes.show(standing, first.isPresent());
        Nodes.show(lasting, first.isPresent());
        Nodes.style(this, "fresh", first.filter(Row::isNew).isPresent());
        Nodes.show(acknowledge, first.filter(Row::isNew).isPresent());
        setAccessibleText(first.map(Row::spoken).orElse("No open alarm"));
    }

    void show(AlarmsModel model) {
        Optional<Row> first = model.open().stream().findFirst();
        if (!first.equals(shown)) {
            fill(first);
        }
        int count = model.open().size() + model.quiet().size();
        String words = count == 0 ? "Alarm log" : "All alarms (" + count + ")";
        if (!all.getText().equals(words)) {
            all.setText(words);
        }
    }
}
