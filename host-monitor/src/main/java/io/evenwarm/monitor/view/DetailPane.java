package io.evenwarm.monitor.view;

import io.evenwarm.monitor.view.CabinetCard.FindingLine;
import io.evenwarm.monitor.view.WindowModel.Detail;
import java.util.List;
import java.util.Optional;
import javafx.geometry.Pos;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.ScrollPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;

/** The chosen cabinet's name, what is wrong with it and what to do, and what may be asked of it. */
final class DetailPane extends VBox {

    /** More findings scroll: the curves must keep their room. */
    private static final double FINDINGS_HEIGHT_MIN = 132;

    private static final double FINDINGS_SHARE_MAX = 0.24;

    private final Label name = Nodes.label("", "title");
    private final Label agent = Nodes.label("", "quiet");
    private final StatePill pill = new StatePill();
    private final Button setPoint = new Button("Set point…");
    private final Button reset = new Button("Reset cut-off…");
    private final VBox findings = new VBox(4);
    private final ScrollPane scroll = new ScrollPane(findings);
    private final Label gone = Nodes.wrapping("", "gone-note");
    private Optional<List<FindingLine>> shownFindings = Optional.empty();

    DetailPane(Runnable onSetPoint, Runnable onReset, Runnable onEvenness, Runnable onOutages) {
        setSpacing(8);
        reset.getStyleClass().add("grave");
        setPoint.setId("set-point");
        reset.setId("reset-cut-off");
        setPoint.setMinWidth(Region.USE_PREF_SIZE);
        reset.setMinWidth(Region.USE_PREF_SIZE);
        setPoint.setOnAction(event -> onSetPoint.run());
        reset.setOnAction(event -> onReset.run());
        Nodes.hint(setPoint, "Ask the agent for another set point (S)");
        Nodes.hint(reset, "Ask the agent to reset the tripped cut-off (R)");
        Button evenness = new Button("Evenness…");
        evenness.setId("evenness");
        evenness.setMinWidth(Region.USE_PREF_SIZE);
        evenness.setOnAction(event -> onEvenness.run());
        Nodes.hint(
                evenness, "Is it even, more even than before, and how does its air flow go? (E)");
        Button outages = new Button("Outages…");
        outages.setId("outages");
        outages.setMinWidth(Region.USE_PREF_SIZE);
        outages.setOnAction(event -> onOutages.run());
        Nodes.hint(outages, "What did its eggs go through when something was dark or failed? (G)");
        HBox heading = new HBox(12, name, pill, agent);
        heading.setAlignment(Pos.CENTER_LEFT);
        HBox buttons = new HBox(12, evenness, outages, reset, setPoint);
        buttons.setAlignment(Pos.CENTER_RIGHT);
        HeadRow top = new HeadRow(heading, buttons);
        name.setMinWidth(60);
        scroll.getStyleClass().add("scroll-clear");
        scroll.setFitToWidth(true);
        scroll.setHbarPolicy(ScrollPane.ScrollBarPolicy.NEVER);
        findings.heightProperty().addListener((its, before, now) -> fitFindings());
        sceneProperty()
                .addListener(
                        (its, before, now) -> {
                            if (now != null) {
                                now.heightProperty()
                                        .addListener((height, old, fresh) -> fitFindings());
                            }
                        });
        scroll.setFocusTraversable(false);
        gone.setMaxWidth(Double.MAX_VALUE);
        getChildren().addAll(top, gone, scroll);
    }

    private void fitFindings() {
        double window = getScene() == null ? 0 : getScene().getHeight();
        double most = Math.max(FINDINGS_HEIGHT_MIN, window * FINDINGS_SHARE_MAX);
        double height = Math.min(most, findings.getHeight());
        scroll.setMinHeight(height);
        scroll.setPrefHeight(height);
        scroll.setMaxHeight(height);
    }

    void show(Detail detail) {
        CabinetCard card = detail.card();
        Nodes.text(name, card.key().cabinet().value());
        Nodes.text(agent, "at " + card.key().agent().value());
        pill.show(card.state());
        boolean mayAsk = detail.commands().isPresent();
        setPoint.setDisable(!mayAsk);
        boolean tripped = detail.commands().map(WindowModel.Commands::mayReset).orElse(false);
        Nodes.show(reset, tripped);
        Nodes.show(gone, !card.state().isAlive());
        Nodes.text(gone, goneWords(detail));
        showFindings(card);
    }

    private static String goneWords(Detail detail) {
        CabinetCard card = detail.card();
        if (card.state().isAlive()) {
            return "";
        }
        String doing = detail.agentWords();
        return card.state().words()
                + ": "
                + card.lastKnown()
                + ". What is in the cabinet now is not known. "
                + card.key().agent()
                + ": "
                + doing
                + (doing.endsWith(".") ? "" : ".");
    }

    private void showFindings(CabinetCard card) {
        List<FindingLine> lines = card.findings();
        if (shownFindings.equals(Optional.of(lines))) {
            return;
        }
        shownFindings = Optional.of(lines);
        findings.getChildren().clear();
        for (FindingLine line : lines) {
            VBox box = new VBox();
            box.getStyleClass().add("finding");
            HBox head =
                    new HBox(
                            6,
                            Nodes.state(CardState.Shape.TRIANGLE),
                            Nodes.label(line.headline(), "strong"));
            head.setAlignment(Pos.CENTER_LEFT);
            box.getChildren().add(head);
            // What to do comes before why: it is what a person needs first.
            text("Do now: ", line.advice(), "strong").ifPresent(box.getChildren()::add);
            text("", line.evidence()).ifPresent(box.getChildren()::add);
            text("Done by the agent: ", line.action()).ifPresent(box.getChildren()::add);
            findings.getChildren().add(box);
        }
        Nodes.show(scroll, !lines.isEmpty());
    }

    private static Optional<Label> text(String lead, String words, String... styles) {
        return words.isBlank()
                ? Optional.empty()
                : Optional.of(Nodes.wrapping(lead + words, styles));
    }
}
