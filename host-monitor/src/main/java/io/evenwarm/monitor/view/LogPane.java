package io.evenwarm.monitor.view;

import io.evenwarm.monitor.view.WindowModel.LogUpdate;
import java.util.List;
import javafx.geometry.Pos;
import javafx.scene.Node;
import javafx.scene.control.Label;
import javafx.scene.control.ScrollPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;

/** What was out of order in the chosen cabinet, newest first. */
final class LogPane extends VBox {

    private static final double BEGIN_WIDTH = 126;
    private static final double LASTED_WIDTH = 94;
    private static final double HEADLINE_WIDTH = 160;

    private final Label heading = Nodes.label("Log", "heading");
    private final VBox rows = new VBox();
    private final ScrollPane scroll = new ScrollPane(rows);
    private boolean narrow;
    private List<LogLine> shown = List.of();

    LogPane() {
        getStyleClass().add("log");
        rows.getStyleClass().add("log-rows");
        scroll.getStyleClass().add("scroll-clear");
        scroll.setFitToWidth(true);
        scroll.setHbarPolicy(ScrollPane.ScrollBarPolicy.NEVER);
        VBox.setVgrow(scroll, Priority.ALWAYS);
        getChildren().addAll(heading, scroll);
    }

    /** Beside the curves the lines stand on top of each other; below them, in columns. */
    void setNarrow(boolean its) {
        if (its != narrow) {
            narrow = its;
            Nodes.style(this, "narrow", its);
            fill();
        }
    }

    void show(LogUpdate log) {
        Nodes.text(heading, log.heading());
        shown = log.lines();
        fill();
        if (shown.isEmpty()) {
            rows.getChildren().setAll(Nodes.wrapping(log.empty(), "quiet"));
        }
    }

    private void fill() {
        rows.getChildren()
                .setAll(
                        shown.stream()
                                .map(line -> narrow ? stacked(line) : columns(line))
                                .toList());
    }

    private static Node columns(LogLine line) {
        HBox row =
                new HBox(
                        mark(line),
                        fixed(Nodes.label(line.begin()), BEGIN_WIDTH),
                        fixed(
                                Nodes.label(line.lasted(), line.open() ? "strong" : "quiet"),
                                LASTED_WIDTH),
                        fixed(Nodes.wrapping(line.headline(), "strong"), HEADLINE_WIDTH),
                        growing(Nodes.wrapping(line.words())));
        return dressed(row, line);
    }

    private static Node stacked(LogLine line) {
        HBox head =
                new HBox(
                        8,
                        growing(Nodes.wrapping(line.headline(), "strong")),
                        Nodes.whole(line.lasted(), line.open() ? "strong" : "quiet"));
        VBox text =
                new VBox(
                        1,
                        head,
                        Nodes.label(line.begin(), "small", "quiet"),
                        Nodes.wrapping(line.words()));
        HBox.setHgrow(text, Priority.ALWAYS);
        HBox row = new HBox(mark(line), text);
        return dressed(row, line);
    }

    private static Node dressed(HBox row, LogLine line) {
        row.getStyleClass().add("log-row");
        row.setAlignment(Pos.TOP_LEFT);
        row.setAccessibleText(
                line.headline() + ", " + line.begin() + ", " + line.lasted() + ". " + line.words());
        return row;
    }

    private static Node mark(LogLine line) {
        return Nodes.state(
                !line.trouble()
                        ? CardState.Shape.DOT
                        : line.open() ? CardState.Shape.TRIANGLE : CardState.Shape.HOLLOW_TRIANGLE);
    }

    private static Label fixed(Label label, double width) {
        label.setMinWidth(width);
        label.setPrefWidth(width);
        label.setMaxWidth(Region.USE_PREF_SIZE);
        return label;
    }

    private static Label growing(Label label) {
        HBox.setHgrow(label, Priority.ALWAYS);
        label.setMaxWidth(Double.MAX_VALUE);
        return label;
    }
}
