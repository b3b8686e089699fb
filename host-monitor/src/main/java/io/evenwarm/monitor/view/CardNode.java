package io.evenwarm.monitor.view;

import io.evenwarm.monitor.view.CabinetCard.FindingLine;
import io.evenwarm.monitor.view.CabinetCard.ProbeValue;
import java.util.List;
import java.util.Optional;
import javafx.geometry.Pos;
import javafx.scene.AccessibleRole;
import javafx.scene.control.Label;
import javafx.scene.layout.ColumnConstraints;
import javafx.scene.layout.GridPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.StackPane;
import javafx.scene.layout.VBox;

/** One cabinet at a glance. */
final class CardNode extends VBox {

    private static final int FINDINGS_SHOWN_MAX = 2;
    private static final int PROBE_COLUMNS = 3;

    private final Label name = Nodes.label("", "cabinet-name");
    private final StatePill pill = new StatePill();
    private final Label number = Nodes.label("", "number");
    private final Label unit = Nodes.label("", "number-unit");
    private final HBox value = new HBox(4, number, unit);
    private final HBox middle = new HBox(4);
    private final Label lastKnown = Nodes.wrapping("", "strong");
    private final Label setPoint = Nodes.label("", "strong");
    private final Label duty = Nodes.label("", "small");
    private final Label guard = Nodes.label("", "small");
    private final Label age = Nodes.label("", "small", "quiet");
    private final Label work = Nodes.label("", "small", "strong");
    private final Label eggs = Nodes.wrapping("", "small");
    private final GridPane probes = new GridPane();
    private final StackPane alarmShape = new StackPane();
    private final Label alarmWords = Nodes.wrapping("", "strong");
    private final HBox alarm = new HBox(4, alarmShape, alarmWords);
    private Optional<AlarmsModel.CardAlarm> shownAlarm = Optional.empty();
    private final VBox findings = new VBox(2);
    private List<ProbeValue> shownProbes = List.of();
    private List<FindingLine> shownFindings = List.of();
    private boolean shownAlive = true;

    CardNode(Runnable onChosen) {
        getStyleClass().add("cabinet");
        setAccessibleRole(AccessibleRole.BUTTON);
        HBox top = new HBox(8, name, Nodes.filler(), pill);
        top.setAlignment(Pos.CENTER_LEFT);
        value.setAlignment(Pos.BASELINE_LEFT);
        VBox asked = new VBox(0, setPoint, duty);
        asked.setAlignment(Pos.CENTER_RIGHT);
        middle.getChildren().addAll(value, Nodes.filler(), asked);
        middle.setAlignment(Pos.CENTER_LEFT);
        HBox state = new HBox(8, guard, Nodes.filler(), age);
        for (int column = 0; column < PROBE_COLUMNS; column++) {
            ColumnConstraints third = new ColumnConstraints();
            third.setHgrow(Priority.ALWAYS);
            probes.getColumnConstraints().add(third);
        }
        alarm.getStyleClass().add("card-alarm");
        Nodes.show(alarm, false);
        getChildren().addAll(top, alarm, lastKnown, middle, probes, state, eggs, work, findings);
        setOnMousePressed(event -> onChosen.run());
    }

    void show(CabinetCard card, boolean chosen) {
        boolean alive = card.state().isAlive();
        Nodes.style(this, "chosen", chosen);
        Nodes.style(this, "not-alive", !alive);
        Nodes.text(name, card.key().cabinet().value());
        pill.show(card.state());
        Nodes.text(number, card.number());
        Nodes.text(unit, card.unit());
        Nodes.text(lastKnown, card.lastKnown());
        Nodes.show(lastKnown, !alive);
        Nodes.text(setPoint, card.setPoint());
        Nodes.text(duty, card.duty());
        Nodes.text(guard, alive ? card.guard() : card.setPoint());
        Nodes.text(age, card.age());
        Nodes.text(eggs, card.eggs());
        Nodes.show(eggs, !card.eggs().isEmpty());
        Nodes.text(work, card.work());
        Nodes.show(work, !card.work().isEmpty());
        Nodes.show(middle, alive);
        Nodes.show(age, alive);
        showProbes(card.probes(), alive);
        showFindings(card.findings());
        showAlarm(card.alarm());
        setAccessibleText(card.spoken());
    }

    private void showProbes(List<ProbeValue> values, boolean alive) {
        if (values.equals(shownProbes) && alive == shownAlive) {
            return;
        }
        shownProbes = values;
        shownAlive = alive;
        probes.getChildren().clear();
        for (ProbeValue value : values) {
            Label text = Nodes.whole(value.value(), "probe-value");
            Nodes.style(text, "doubtful", !value.good() && alive);
            HBox both =
                    new HBox(
                            3,
                            Nodes.mark(value.mark(), value.good()),
                            Nodes.whole(value.label(), "small", "quiet"),
                            text);
            both.setAlignment(Pos.CENTER_LEFT);
            int index = probes.getChildren().size();
            probes.add(both, index % PROBE_COLUMNS, index / PROBE_COLUMNS);
        }
        Nodes.show(probes, !values.isEmpty());
    }

    private void showAlarm(Optional<AlarmsModel.CardAlarm> its) {
        if (its.equals(shownAlarm)) {
            return;
        }
        shownAlarm = its;
        its.ifPresent(there -> alarmShape.getChildren().setAll(Nodes.state(there.shape())));
        Nodes.text(alarmWords, its.map(AlarmsModel.CardAlarm::words).orElse(""));
        Nodes.show(alarm, its.isPresent());
    }

    private void showFindings(List<FindingLine> lines) {
        if (lines.equals(shownFindings)) {
            return;
        }
        shownFindings = lines;
        findings.getChildren().clear();
        for (FindingLine line : lines.subList(0, Math.min(FINDINGS_SHOWN_MAX, lines.size()))) {
            HBox row =
                    new HBox(
                            4,
                            Nodes.state(CardState.Shape.TRIANGLE),
                            Nodes.wrapping(line.headline(), "strong"));
            findings.getChildren().add(row);
        }
        if (lines.size() > FINDINGS_SHOWN_MAX) {
            findings.getChildren()
                    .add(
                            Nodes.label(
                                    "and " + (lines.size() - FINDINGS_SHOWN_MAX) + " more",
                                    "small",
                                    "quiet"));
        }
        Nodes.show(findings, !lines.isEmpty());
    }
}
