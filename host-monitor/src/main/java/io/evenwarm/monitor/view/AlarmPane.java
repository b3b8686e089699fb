package io.evenwarm.monitor.view;

import io.evenwarm.monitor.view.AlarmsModel.LogRow;
import io.evenwarm.monitor.view.AlarmsModel.Row;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import javafx.geometry.Bounds;
import javafx.geometry.Pos;
import javafx.scene.Node;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.ScrollPane;
import javafx.scene.control.ToggleButton;
import javafx.scene.control.ToggleGroup;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;

/** All alarms that want attention, under them what is put away; or their log. */
final class AlarmPane extends VBox {

    private static final double TIME_WIDTH = 108;
    private static final double WHAT_WIDTH = 200;

    private final AlarmRow.Hands hands;
    private final Label title = Nodes.label("", "title");
    private final Label times = Nodes.label("", "small", "quiet");
    private final Label note = Nodes.wrapping("", "gone-note");
    private final ToggleButton now = Nodes.segment("Now", "alarms-now", "first");
    private final ToggleButton log = Nodes.segment("Log", "alarms-log", "last");
    private final VBox open = new VBox(6);
    private final Label quietHeading = Nodes.label("", "heading");
    private final VBox quiet = new VBox(6);
    private final VBox lines = new VBox();
    private final VBox body = new VBox(8);
    private final ScrollPane scroll = new ScrollPane(body);
    private final Map<String, AlarmRow> openRows = new LinkedHashMap<>();
    private final Map<String, AlarmRow> quietRows = new LinkedHashMap<>();
    private List<LogRow> shownLines = List.of();
    private Optional<AlarmsModel> shown = Optional.empty();

    /**
     * @param onLog told whether the log is to be seen
     * @param onBack leaves the alarms for the curves
     */
    AlarmPane(AlarmRow.Hands hands, Consumer<Boolean> onLog, Runnable onBack) {
        this.hands = hands;
        setId("alarms");
        getStyleClass().add("detail");
        ToggleGroup which = new ToggleGroup();
        now.setToggleGroup(which);
        log.setToggleGroup(which);
        now.setSelected(true);
        which.selectedToggleProperty()
                .addListener(
                        (its, before, chosen) -> {
                            if (chosen == null) {
                                before.setSelected(true);
                                return;
                            }
                            onLog.accept(chosen == log);
                            fill();
                        });
        Button back = new Button("Back to the curves");
        back.setId("leave-alarms");
        back.setMinWidth(Region.USE_PREF_SIZE);
        back.setOnAction(event -> onBack.run());
        Nodes.hint(back, "Back to the curves (A or Escape)");
        title.setMinWidth(Region.USE_PREF_SIZE);
        HBox top = new HBox(12, title, new HBox(now, log), Nodes.filler(), back);
        top.setAlignment(Pos.CENTER_LEFT);
        lines.getStyleClass().add("log-rows");
        scroll.getStyleClass().add("scroll-clear");
        scroll.setFitToWidth(true);
        scroll.setHbarPolicy(ScrollPane.ScrollBarPolicy.NEVER);
        scroll.setFocusTraversable(false);
        body.getStyleClass().add("alarm-rows");
        VBox.setVgrow(scroll, Priority.ALWAYS);
        getChildren().addAll(top, times, note, scroll);
        Nodes.show(note, false);
        fill();
    }

    /** Whether the person looks at the log. */
    boolean showsLog() {
        return log.isSelected();
    }

    void show(AlarmsModel model) {
        if (shown.equals(Optional.of(model))) {
            return;
        }
        shown = Optional.of(model);
        Nodes.text(title, model.summary());
        Nodes.text(times, model.times());
        Nodes.text(note, model.note());
        Nodes.show(note, !model.note().isEmpty());
        rows(open, openRows, model.open());
        rows(quiet, quietRows, model.quiet());
        Nodes.text(quietHeading, "Put away or explained: " + model.quiet().size());
        Nodes.show(quietHeading, !model.quiet().isEmpty());
        if (!model.log().equals(shownLines) || lines.getChildren().isEmpty()) {
            shownLines = model.log();
            lines.getChildren()
                    .setAll(
                            shownLines.isEmpty()
                                    ? List.of(Nodes.wrapping(model.logNote(), "quiet"))
                                    : shownLines.stream().map(AlarmPane::line).toList());
        }
    }

    private void fill() {
        body.getChildren().setAll(showsLog() ? List.of(lines) : List.of(open, quietHeading, quiet));
        scroll.setVvalue(0);
    }

    /**
     * Rows stay where they are under the pointer: a press must never meet another alarm than the
     * one that was aimed at.
     */
    private void rows(VBox box, Map<String, AlarmRow> nodes, List<Row> rows) {
        Map<String, Row> byId = new LinkedHashMap<>();
        rows.forEach(row -> byId.put(row.id(), row));
        List<String> order = new ArrayList<>(byId.keySet());
        if (box.isHover()) {
            order.removeAll(nodes.keySet());
            List<String> kept = new ArrayList<>(nodes.keySet());
            kept.retainAll(byId.keySet());
            order.addAll(0, kept);
        }
        if (!order.equals(List.copyOf(nodes.keySet()))) {
            Map<String, AlarmRow> before = Map.copyOf(nodes);
            nodes.clear();
            for (String id : order) {
                AlarmRow there = before.get(id);
                nodes.put(id, there == null ? fresh() : there);
            }
            arrange(box, List.copyOf(nodes.values()));
        }
        nodes.forEach(
                (id, node) -> {
                    Row row = byId.get(id);
                    if (row != null) {
                        node.show(row);
                    }
                });
    }

    /**
     * Brings the rows into their order around those that a person may be pressing at, which never
     * leave the window: a button that does forgets between press and release that it was pressed.
     */
    private static void arrange(VBox box, List<AlarmRow> rows) {
        List<Node> children = box.getChildren();
        boolean isHover = box.isHover();
        children.removeIf(
                node -> !rows.contains(node) || (!isHover && !((AlarmRow) node).isFocusWithin()));
        for (int i = 0; i < rows.size(); i++) {
            if (i == children.size() || children.get(i) != rows.get(i)) {
                children.add(i, rows.get(i));
            }
        }
    }

    private AlarmRow fresh() {
        AlarmRow row = new AlarmRow(hands);
        row.focusWithinProperty()
                .addListener(
                        (its, before, within) -> {
                            if (within) {
                                bringIntoView(row);
                            }
                        });
        return row;
    }

    private void bringIntoView(Node row) {
        double hidden = body.getHeight() - scroll.getViewportBounds().getHeight();
        if (hidden <= 0) {
            return;
        }
        Bounds at = body.sceneToLocal(row.localToScene(row.getLayoutBounds()));
        double from = scroll.getVvalue() * hidden;
        if (at.getMinY() < from) {
            scroll.setVvalue(Math.max(0, at.getMinY() / hidden));
        } else if (at.getMaxY() > from + scroll.getViewportBounds().getHeight()) {
            scroll.setVvalue(
                    Math.min(1, (at.getMaxY() - scroll.getViewportBounds().getHeight()) / hidden));
        }
    }

    private static Node line(LogRow row) {
        Label at = fixed(Nodes.label(row.at()), TIME_WIDTH);
        Label what = fixed(Nodes.wrapping(row.what(), "strong"), WHAT_WIDTH);
        VBox change = new VBox(1, Nodes.wrapping(row.change()), Nodes.wrapping(row.who(), "quiet"));
        HBox.setHgrow(change, Priority.ALWAYS);
        HBox line = new HBox(at, what, change);
        line.getStyleClass().add("log-row");
        line.setAlignment(Pos.TOP_LEFT);
        line.setAccessibleText(
                row.at() + ", " + row.what() + ", " + row.change() + ", " + row.who());
        return line;
    }

    private static Label fixed(Label label, double width) {
        label.setMinWidth(width);
        label.setPrefWidth(width);
        label.setMaxWidth(width);
        return label;
    }
}
