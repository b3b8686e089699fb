package io.evenwarm.monitor.view;

import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.live.AgentState;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import javafx.application.Platform;
import javafx.scene.control.Label;
import javafx.scene.control.ScrollPane;
import javafx.scene.layout.VBox;

/** All cabinets at a glance, and under them the agents that can't be heard. */
final class CabinetList extends ScrollPane {

    private final Consumer<CabinetKey> onChosen;
    private final VBox rows = new VBox();
    private final VBox cards = new VBox(8);
    private final VBox agents = new VBox(4);
    private final Label summary = Nodes.wrapping("", "strong");
    private final Map<CabinetKey, CardNode> nodes = new LinkedHashMap<>();
    private static final double MARGIN = 12;

    private Optional<CabinetKey> shownChosen = Optional.empty();
    private List<AgentState> shownAgents = List.of();

    CabinetList(Consumer<CabinetKey> onChosen) {
        this.onChosen = onChosen;
        getStyleClass().add("list-scroll");
        rows.getStyleClass().add("list");
        rows.getChildren().addAll(summary, cards, agents);
        setContent(rows);
        setFitToWidth(true);
        setHbarPolicy(ScrollBarPolicy.NEVER);
        setFocusTraversable(false);
    }

    void show(WindowModel model) {
        Nodes.text(summary, model.summary());
        List<CabinetKey> keys = model.cards().stream().map(CabinetCard::key).toList();
        if (!keys.equals(List.copyOf(nodes.keySet()))) {
            nodes.clear();
            keys.forEach(key -> nodes.put(key, new CardNode(() -> onChosen.accept(key))));
            cards.getChildren().setAll(nodes.values());
        }
        Optional<CabinetKey> chosen = model.detail().map(detail -> detail.card().key());
        for (CabinetCard card : model.cards()) {
            CardNode node = nodes.get(card.key());
            if (node != null) {
                node.show(card, chosen.equals(Optional.of(card.key())));
            }
        }
        if (!chosen.equals(shownChosen)) {
            shownChosen = chosen;
            // Heights are known only after a layout.
            Platform.runLater(() -> chosen.map(nodes::get).ifPresent(this::bringIntoView));
        }
        // Without any cabinet the middle of the window says it.
        Nodes.show(agents, !model.cards().isEmpty());
        showAgents(model.agents().stream().filter(agent -> !agent.connected()).toList());
    }

    private void bringIntoView(CardNode node) {
        double hidden = rows.getHeight() - getViewportBounds().getHeight();
        if (hidden <= 0) {
            return;
        }
        double top = cards.getLayoutY() + node.getLayoutY();
        double bottom = top + node.getHeight();
        double seenFrom = getVvalue() * hidden;
        if (top < seenFrom) {
            setVvalue(Math.max(0, (top - MARGIN) / hidden));
        } else if (bottom > seenFrom + getViewportBounds().getHeight()) {
            setVvalue(Math.min(1, (bottom + MARGIN - getViewportBounds().getHeight()) / hidden));
        }
    }

    private void showAgents(List<AgentState> silent) {
        if (silent.equals(shownAgents)) {
            return;
        }
        shownAgents = silent;
        agents.getChildren().clear();
        for (AgentState agent : silent) {
            agents.getChildren()
                    .add(Nodes.wrapping(agent.agent() + ": " + agent.words(), "small", "quiet"));
        }
    }
}
