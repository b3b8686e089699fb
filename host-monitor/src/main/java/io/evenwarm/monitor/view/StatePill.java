package io.evenwarm.monitor.view;

import java.util.Optional;
import javafx.scene.control.Label;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Region;

/** A cabinet's state: a shape and its words. */
final class StatePill extends HBox {

    private final Label words = new Label();
    private Optional<CardState> shown = Optional.empty();

    StatePill() {
        getStyleClass().add("state-pill");
        setMinWidth(Region.USE_PREF_SIZE);
        setMaxHeight(Region.USE_PREF_SIZE);
    }

    void show(CardState state) {
        if (shown.equals(Optional.of(state))) {
            return;
        }
        shown = Optional.of(state);
        words.setText(state.words());
        getChildren().setAll(Nodes.state(state.shape()), words);
        Nodes.style(this, "attention", state == CardState.ATTENTION);
        Nodes.style(this, "tripped", state == CardState.TRIPPED);
        Nodes.style(this, "gone", !state.isAlive());
    }
}
