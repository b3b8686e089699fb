package io.evenwarm.monitor.view;

import io.evenwarm.monitor.live.AgentState;
import java.util.List;
import javafx.scene.layout.VBox;

/** What is shown until a first cabinet is known: what is being tried, in words. */
final class EmptyPane extends VBox {

    private List<AgentState> shown = List.of();
    private boolean shownOnce;

    EmptyPane() {
        getStyleClass().add("empty");
    }

    void show(List<AgentState> agents) {
        if (shownOnce && agents.equals(shown)) {
            return;
        }
        shownOnce = true;
        shown = agents;
        getChildren().setAll(Nodes.label("No cabinet has been heard of yet", "title"));
        if (agents.isEmpty()) {
            getChildren()
                    .add(
                            Nodes.wrapping(
                                    "The settings name no agent, so nothing is being tried. Add"
                                            + " an agent to the settings and start again."));
            return;
        }
        for (AgentState agent : agents) {
            getChildren().add(Nodes.wrapping(agent.agent() + ": " + agent.words()));
        }
        getChildren()
                .add(
                        Nodes.wrapping(
                                "Cabinets appear here by themselves as soon as an agent answers.",
                                "quiet"));
    }
}
