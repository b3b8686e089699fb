package io.evenwarm.monitor.view;

import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.view.OutagesWorker.Answer;
import io.evenwarm.monitor.view.OutagesWorker.Question;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import javafx.geometry.Pos;
import javafx.scene.Node;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.ScrollPane;
import javafx.scene.control.ToggleButton;
import javafx.scene.layout.ColumnConstraints;
import javafx.scene.layout.GridPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;

/**
 * What the chosen cabinet's eggs went through: its outages to choose from, and of the chosen one
 * what matters in a sentence, the annotated curves, and the tables. Belongs to the window's thread.
 */
final class OutagesPane extends VBox {

    /** Narrower pictures can't hold their words, wider ones tell no more. */
    private static final int PICTURE_MIN = 560;

    private static final int PICTURE_MAX = 1100;
    private static final int MARGIN = 60;

    /** Words wrap, but not letter by letter beside a long neighbour. */
    private static final double LEAD_WIDTH = 132;

    private static final double CELL_WIDTH = 80;
    private static final double LIST_HEIGHT_MAX = 104;

    private final Consumer<Question> onAsk;
    private final ZoneId zone;
    private final Label title = Nodes.label("", "title");
    private final VBox list = new VBox(2);
    private final ScrollPane listScroll = scroll(list);
    private final Label note = Nodes.wrapping("", "gone-note");
    private final Label verdict = Nodes.wrapping("", "verdict");
    private final VBox answer = new VBox(8);
    private final ScrollPane scroll = scroll(answer);

    private Optional<CabinetKey> key = Optional.empty();
    private TemperatureUnit unit = TemperatureUnit.CELSIUS;
    private List<WindowOutages.Listed> shownList = List.of();
    private Optional<Question> asked = Optional.empty();

    /**
     * @param onAsk takes a question; its answers come by {@link #show}
     * @param onBack leaves for the curves
     */
    OutagesPane(Consumer<Question> onAsk, Runnable onBack, ZoneId zone) {
        this.onAsk = onAsk;
        this.zone = zone;
        setId("outages-pane");
        getStyleClass().add("detail");
        Button back = new Button("Back to the curves");
        back.setId("leave-outages");
        back.setMinWidth(Region.USE_PREF_SIZE);
        back.setOnAction(event -> onBack.run());
        Nodes.hint(back, "Back to the curves (G or Escape)");
        title.setMinWidth(60);
        HBox top = new HBox(12, title, Nodes.filler(), back);
        top.setAlignment(Pos.CENTER_LEFT);
        list.heightProperty().addListener((its, before, now) -> fitList());
        fitList();
        answer.getStyleClass().add("alarm-rows");
        VBox.setVgrow(scroll, Priority.ALWAYS);
        getChildren().addAll(top, listScroll, note, scroll);
        Nodes.show(note, false);
    }

    /** More outages scroll: the curves must keep their room. */
    private void fitList() {
        double height = Math.min(LIST_HEIGHT_MAX, list.getHeight());
        listScroll.setMinHeight(height);
        listScroll.setPrefHeight(height);
        listScroll.setMaxHeight(height);
    }

    private static ScrollPane scroll(Node content) {
        ScrollPane scroll = new ScrollPane(content);
        scroll.getStyleClass().add("scroll-clear");
        scroll.setFitToWidth(true);
        scroll.setHbarPolicy(ScrollPane.ScrollBarPolicy.NEVER);
        scroll.setFocusTraversable(false);
        return scroll;
    }

    /** Shows a cabinet's newest outage, or the one that was chosen last. */
    void open(CabinetKey its, TemperatureUnit shownUnit) {
        boolean isOther = !key.equals(Optional.of(its));
        key = Optional.of(its);
        unit = shownUnit;
        Nodes.text(title, "Outages of " + its.cabinet());
        if (isOther) {
            shownList = List.of();
            list.getChildren().clear();
            answer.getChildren().clear();
        }
        ask(isOther ? Optional.empty() : asked.flatMap(Question::id));
    }

    private void ask(Optional<String> id) {
        key.ifPresent(
                its -> {
                    int width = (int) Math.max(PICTURE_MIN, getWidth() - MARGIN);
                    Question question =
                            new Question(
                                    its, id, new Wording(unit, zone), Math.min(PICTURE_MAX, width));
                    asked = Optional.of(question);
                    tell("Looking through the record…");
                    onAsk.accept(question);
                });
    }

    private void tell(String words) {
        Nodes.text(note, words);
        Nodes.show(note, !words.isEmpty());
    }

    /** Takes an answer, unless something else was asked since. */
    void show(Answer its) {
        if (!asked.equals(Optional.of(its.question()))) {
            return;
        }
        showList(its);
        if (!its.trouble().isEmpty()) {
            answer.getChildren().clear();
            tell("No review: " + its.trouble());
        } else if (its.list().isEmpty()) {
            answer.getChildren().clear();
            tell("Nothing was dark or had failed for 2 min or more in this cabinet's record.");
        } else if (its.told().isPresent()) {
            tell("");
            showTold(its.told().get());
        } else {
            tell("Fitting the cabinet's thermal model…");
        }
    }

    private void showList(Answer its) {
        if (!its.list().equals(shownList)) {
            shownList = its.list();
            list.getChildren().clear();
            for (WindowOutages.Listed each : shownList) {
                list.getChildren().add(row(each));
            }
        }
        for (int i = 0; i < shownList.size(); i++) {
            boolean isChosen = its.chosen().equals(Optional.of(shownList.get(i).id()));
            ((ToggleButton) list.getChildren().get(i)).setSelected(isChosen);
        }
    }

    /** In no group: one of a group is reached by arrows only, which choose cabinets here. */
    private ToggleButton row(WindowOutages.Listed its) {
        ToggleButton row = new ToggleButton(its.when() + ": " + its.what());
        row.getStyleClass().addAll("segment", "outage");
        row.setAlignment(Pos.CENTER_LEFT);
        row.setWrapText(true);
        row.setMaxWidth(Double.MAX_VALUE);
        row.setMinHeight(Region.USE_PREF_SIZE);
        row.setOnAction(
                event -> {
                    row.setSelected(true);
                    ask(Optional.of(its.id()));
                });
        return row;
    }

    private void showTold(WindowOutages.Told told) {
        answer.getChildren().clear();
        Nodes.text(verdict, told.answer());
        Nodes.style(verdict, "open", !told.isKnown());
        answer.getChildren().add(verdict);
        told.notKnown()
                .forEach(
                        words ->
                                answer.getChildren()
                                        .add(Nodes.wrapping("Not known: " + words + ".")));
        told.pictures().forEach(each -> answer.getChildren().add(new PictureNode(each)));
        told.tables().forEach(this::addTable);
        answer.getChildren().add(Nodes.wrapping(told.note(), "small", "quiet"));
        scroll.setVvalue(0);
    }

    private void addTable(WindowOutages.Table table) {
        answer.getChildren().add(Nodes.wrapping(table.heading(), "heading"));
        GridPane grid = new GridPane();
        grid.setHgap(12);
        grid.setVgap(2);
        grid.setMaxWidth(PICTURE_MAX);
        int columns = table.rows().stream().mapToInt(List::size).max().orElse(0);
        for (int column = 0; column < columns; column++) {
            ColumnConstraints its = new ColumnConstraints();
            its.setMinWidth(column == 0 ? LEAD_WIDTH : CELL_WIDTH);
            its.setHgrow(column == 0 ? Priority.NEVER : Priority.SOMETIMES);
            grid.getColumnConstraints().add(its);
            if (column < table.columns().size()) {
                grid.add(Nodes.wrapping(table.columns().get(column), "small", "quiet"), column, 0);
            }
        }
        for (int row = 0; row < table.rows().size(); row++) {
            List<String> cells = table.rows().get(row);
            for (int column = 0; column < cells.size(); column++) {
                grid.add(
                        Nodes.wrapping(cells.get(column), column == 0 ? "strong" : "cell"),
                        column,
                        row + 1);
            }
        }
        answer.getChildren().add(grid);
    }
}
