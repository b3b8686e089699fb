package io.evenwarm.monitor.view;

import io.evenwarm.monitor.evenness.EvennessWords;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.view.EvennessWorker.Answer;
import io.evenwarm.monitor.view.EvennessWorker.Question;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Supplier;
import javafx.geometry.Pos;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.ScrollPane;
import javafx.scene.control.TextField;
import javafx.scene.control.ToggleButton;
import javafx.scene.control.ToggleGroup;
import javafx.scene.layout.FlowPane;
import javafx.scene.layout.GridPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;

/**
 * Is the chosen cabinet even, is it more even than before, and how does its air flow go? A person
 * chooses the spans; the answer is a sentence, a picture and the figures.
 */
final class EvennessPane extends VBox {

    private static final int TIME_COLUMNS = 11;

    private final Supplier<Optional<TimeSpan>> curves;
    private final Consumer<Question> onAsk;
    private final ZoneId zone;

    private final Label title = Nodes.label("", "title");
    private final ToggleButton survey = Nodes.segment("Evenness", "evenness-survey", "first");
    private final ToggleButton airFlow = Nodes.segment("Air flow", "evenness-air-flow", "last");
    private final TextField from = time("evenness-from", "Begin of the survey");
    private final TextField to = time("evenness-to", "End of the survey");
    private final TextField otherFrom = time("evenness-other-from", "Begin of the one before");
    private final TextField otherTo = time("evenness-other-to", "End of the one before");
    private final ToggleButton live = new ToggleButton("Live");
    private final VBox form;
    private final Label note = Nodes.wrapping("", "gone-note");
    private final Label verdict = Nodes.wrapping("", "verdict");
    private final VBox notes = new VBox(4);
    private final FlowPane pictures = new FlowPane(12, 12);
    private final GridPane figures = new GridPane();
    private final Label probesHeading = Nodes.label("Probes, ± for 95 %", "heading");
    private final VBox probes = new VBox(2);
    private final VBox answer =
            new VBox(8, verdict, notes, pictures, figures, probesHeading, probes);
    private final ScrollPane scroll = new ScrollPane(answer);

    private Optional<CabinetKey> key = Optional.empty();
    private TemperatureUnit unit = TemperatureUnit.CELSIUS;
    private Optional<Question> asked = Optional.empty();

    /** Whether the button changes by a person's hand. */
    private boolean isByHand = true;

    /**
     * @param curves which span the curves show
     * @param onAsk takes a question; its answer comes by {@link #show}
     * @param onBack leaves for the curves
     */
    EvennessPane(
            Supplier<Optional<TimeSpan>> curves,
            Consumer<Question> onAsk,
            Runnable onBack,
            ZoneId zone) {
        this.curves = curves;
        this.onAsk = onAsk;
        this.zone = zone;
        setId("evenness-pane");
        getStyleClass().add("detail");
        ToggleGroup which = new ToggleGroup();
        survey.setToggleGroup(which);
        airFlow.setToggleGroup(which);
        survey.setSelected(true);
        which.selectedToggleProperty()
                .addListener(
                        (its, before, chosen) -> {
                            if (chosen == null) {
                                before.setSelected(true);
                            } else {
                                ask();
                            }
                        });
        Button back = new Button("Back to the curves");
        back.setId("leave-evenness");
        back.setMinWidth(Region.USE_PREF_SIZE);
        back.setOnAction(event -> onBack.run());
        Nodes.hint(back, "Back to the curves (E or Escape)");
        title.setMinWidth(60);
        HBox top = new HBox(12, title, new HBox(survey, airFlow), Nodes.filler(), back);
        top.setAlignment(Pos.CENTER_LEFT);
        form = new VBox(6, surveyRow(), otherRow());
        scroll.getStyleClass().add("scroll-clear");
        scroll.setFitToWidth(true);
        scroll.setHbarPolicy(ScrollPane.ScrollBarPolicy.NEVER);
        scroll.setFocusTraversable(false);
        answer.getStyleClass().add("alarm-rows");
        figures.setHgap(12);
        figures.setVgap(2);
        VBox.setVgrow(scroll, Priority.ALWAYS);
        getChildren().addAll(top, form, note, scroll);
        Nodes.show(note, false);
        Nodes.show(answer, false);
    }

    private static TextField time(String id, String help) {
        TextField field = new TextField();
        field.setId(id);
        field.getStyleClass().add("words-field");
        field.setPrefColumnCount(TIME_COLUMNS);
        field.setMinWidth(Region.USE_PREF_SIZE);
        Nodes.hint(field, help + ", in local time, such as 2026-03-01 20:00");
        return field;
    }

    private HBox spanRow(String words, TextField begin, TextField end) {
        Label lead = Nodes.label(words);
        lead.setMinWidth(92);
        Button take = new Button("As the curves");
        take.setId(begin.getId() + "-curves");
        take.setMinWidth(Region.USE_PREF_SIZE);
        take.setOnAction(event -> fill(begin, end));
        Nodes.hint(take, "Take the span that the curves show");
        begin.setOnAction(event -> ask());
        end.setOnAction(event -> ask());
        HBox row = new HBox(8, lead, begin, Nodes.whole("to"), end, take);
        row.setAlignment(Pos.CENTER_LEFT);
        return row;
    }

    private HBox surveyRow() {
        live.setId("evenness-live");
        live.setMinWidth(Region.USE_PREF_SIZE);
        Nodes.hint(
                live,
                "Survey from that begin on while readings come in, until all points have been"
                        + " settled for 12 h or this is pressed again");
        live.selectedProperty()
                .addListener(
                        (its, was, isLive) -> {
                            to.setDisable(isLive);
                            otherFrom.setDisable(isLive);
                            otherTo.setDisable(isLive);
                            if (!isLive && isByHand) {
                                // What there is until now.
                                curves.get().ifPresent(span -> to.setText(words(span.to())));
                            }
                            if (isLive || isByHand) {
                                ask();
                            }
                        });
        HBox row = spanRow("Survey", from, to);
        row.getChildren().add(live);
        return row;
    }

    private HBox otherRow() {
        HBox row = spanRow("Compare with", otherFrom, otherTo);
        Button go = new Button("Survey");
        go.setId("evenness-go");
        go.getStyleClass().add("main");
        go.setMinWidth(Region.USE_PREF_SIZE);
        go.setOnAction(event -> ask());
        row.getChildren().add(go);
        return row;
    }

    private void fill(TextField begin, TextField end) {
        Wording wording = new Wording(unit, zone);
        curves.get()
                .ifPresent(
                        span -> {
                            begin.setText(wording.time(span.from()));
                            end.setText(wording.time(span.to()));
                        });
    }

    /** A person wants to see this cabinet; what the curves show is surveyed at once. */
    void open(CabinetKey chosen, TemperatureUnit itsUnit) {
        boolean isAnother = !key.equals(Optional.of(chosen));
        key = Optional.of(chosen);
        unit = itsUnit;
        Nodes.text(title, "Evenness of " + chosen.cabinet());
        if (isAnother) {
            endLive();
        }
        if (isAnother || from.getText().isBlank()) {
            fill(from, to);
            otherFrom.clear();
            otherTo.clear();
        }
        ask();
    }

    private void ask() {
        boolean isSurvey = survey.isSelected();
        Nodes.show(form, isSurvey);
        note("");
        Nodes.show(answer, false);
        if (key.isEmpty()) {
            return;
        }
        if (isSurvey && (from.getText() + (live.isSelected() ? "" : to.getText())).isBlank()) {
            note("Say from when to when, or take the span that the curves show.");
            return;
        }
        try {
            Question question =
                    new Question(
                            key.get(),
                            isSurvey ? Optional.of(asked()) : Optional.empty(),
                            isSurvey
                                            && !live.isSelected()
                                            && !(otherFrom.getText() + otherTo.getText()).isBlank()
                                    ? Optional.of(span(otherFrom, otherTo))
                                    : Optional.empty(),
                            isSurvey && live.isSelected(),
                            new Wording(unit, zone));
            asked = Optional.of(question);
            note("Looking at the readings…");
            onAsk.accept(question);
        } catch (IllegalArgumentException e) {
            endLive();
            note(String.valueOf(e.getMessage()));
        }
    }

    /** A live one goes from its begin to whatever is now. */
    private TimeSpan asked() {
        return live.isSelected() ? new TimeSpan(time(from), time(from)) : span(from, to);
    }

    /** Without asking for anything. */
    private void endLive() {
        isByHand = false;
        live.setSelected(false);
        isByHand = true;
    }

    private String words(Instant time) {
        return new Wording(unit, zone).time(time);
    }

    private TimeSpan span(TextField begin, TextField end) {
        Instant first = time(begin);
        Instant last = time(end);
        if (!first.isBefore(last)) {
            throw new IllegalArgumentException(
                    "The end must be after the begin, but "
                            + end.getText().strip()
                            + " is not after "
                            + begin.getText().strip()
                            + ".");
        }
        return new TimeSpan(first, last);
    }

    private Instant time(TextField field) {
        return new Wording(unit, zone)
                .timeOf(field.getText())
                .orElseThrow(
                        () ->
                                new IllegalArgumentException(
                                        "A time must be such as 2026-03-01 20:00 but was \""
                                                + field.getText().strip()
                                                + "\"."));
    }

    private void note(String words) {
        Nodes.text(note, words);
        Nodes.show(note, !words.isEmpty());
    }

    /** The answer to a question; one to an older question is passed over. */
    void show(Answer its) {
        if (!asked.equals(Optional.of(its.question()))) {
            return;
        }
        if (its.isOver()) {
            endLive();
        }
        note("");
        Nodes.show(answer, true);
        EvennessModel model = its.model();
        Nodes.text(verdict, model.verdict());
        Nodes.style(verdict, "bad", !model.isGood());
        notes.getChildren()
                .setAll(model.notes().stream().map(words -> Nodes.wrapping(words)).toList());
        pictures.getChildren().setAll(model.pictures().stream().map(PictureNode::new).toList());
        figures.getChildren().clear();
        int row = 0;
        for (EvennessWords.Line line : model.figures()) {
            Label name = Nodes.whole(line.name(), "strong");
            Label words = Nodes.wrapping(line.words());
            GridPane.setHgrow(words, Priority.ALWAYS);
            figures.addRow(row++, name, words);
        }
        Nodes.show(probesHeading, !model.probes().isEmpty());
        probes.getChildren()
                .setAll(
                        model.probes().stream()
                                .map(words -> Nodes.wrapping(words, "quiet"))
                                .toList());
        if (its.isOver()) {
            scroll.setVvalue(0);
        }
    }
}
