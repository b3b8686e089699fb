package io.evenwarm.monitor.view;

import java.util.EnumMap;
import java.util.Map;
import java.util.function.Consumer;
import java.util.function.UnaryOperator;
import javafx.scene.control.Button;
import javafx.scene.control.ToggleButton;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Region;

/** Chooses how much of the past is seen, and how closely. */
final class SpanBar extends HBox {

    private final Map<SpanChoice, ToggleButton> spans = new EnumMap<>(SpanChoice.class);
    private final ToggleButton closeUp = new ToggleButton("Close-up");
    private final ToggleButton room = new ToggleButton("Room");
    private final Button back = new Button("Back to now");

    SpanBar(Consumer<UnaryOperator<ViewState>> onChange) {
        getStyleClass().add("tool-bar-row");
        HBox choices = new HBox(-1);
        SpanChoice[] all = SpanChoice.values();
        for (int i = 0; i < all.length; i++) {
            SpanChoice choice = all[i];
            ToggleButton button = new ToggleButton(choice.words());
            button.setId("span-" + choice.name());
            button.getStyleClass().add("segment");
            Nodes.style(button, "first", i == 0);
            Nodes.style(button, "last", i == all.length - 1);
            button.setOnAction(
                    event ->
                            onChange.accept(
                                    state -> state.withViewport(Viewport.following(choice))));
            button.setMinWidth(Region.USE_PREF_SIZE);
            Nodes.hint(
                    button,
                    choice == SpanChoice.TERM
                            ? "Show everything that is stored of this cabinet (5)"
                            : "Show the last " + choice.words() + " (" + (i + 1) + ")");
            spans.put(choice, button);
            choices.getChildren().add(button);
        }
        back.setId("back-to-now");
        back.getStyleClass().add("main");
        back.setMinWidth(Region.USE_PREF_SIZE);
        back.setOnAction(
                event ->
                        onChange.accept(state -> state.withViewport(state.viewport().backToNow())));
        Nodes.hint(back, "Follow the present again (L)");
        closeUp.setOnAction(event -> onChange.accept(state -> state.withCloseUp(!state.closeUp())));
        closeUp.setId("close-up");
        closeUp.setMinWidth(Region.USE_PREF_SIZE);
        Nodes.hint(closeUp, "Only half a kelvin around the set point (C)");
        room.setOnAction(event -> onChange.accept(state -> state.withShowRoom(!state.showRoom())));
        room.setId("room");
        room.setMinWidth(Region.USE_PREF_SIZE);
        Nodes.hint(room, "The room's temperature in a strip of its own (O)");
        getChildren().addAll(choices, back, Nodes.filler(), closeUp, room);
    }

    /** Without a probe in the room there is nothing to switch. */
    void offerRoom(boolean has) {
        Nodes.show(room, has);
    }

    void show(ViewState state) {
        boolean following = state.viewport().isFollowing();
        spans.forEach(
                (choice, button) ->
                        button.setSelected(following && state.viewport().choice() == choice));
        back.setVisible(!following);
        closeUp.setSelected(state.closeUp());
        room.setSelected(state.showRoom());
    }
}
