package io.evenwarm.monitor.view;

import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.view.WindowModel.ChartUpdate;
import io.evenwarm.monitor.view.WindowModel.Detail;
import io.evenwarm.monitor.view.WindowModel.LogUpdate;
import io.evenwarm.quantity.TemperatureUnit;
import java.net.URL;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.function.UnaryOperator;
import javafx.application.Platform;
import javafx.geometry.Rectangle2D;
import javafx.scene.Node;
import javafx.scene.Scene;
import javafx.scene.control.Label;
import javafx.scene.input.KeyEvent;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.StackPane;
import javafx.scene.layout.VBox;
import javafx.stage.Screen;
import javafx.stage.Stage;

/**
 * The window's content, and the workers behind it. All but {@link #choices} belongs to the window's
 * thread.
 */
final class WindowScene implements WindowWorker.Sink {

    /** A window that watches opens as large as the screen lets it, up to this. */
    static final double WIDTH_AT_FIRST = 1920;

    static final double HEIGHT_AT_FIRST = 1080;
    static final double WIDTH_MIN = 900;
    static final double HEIGHT_MIN = 600;

    private static final double LIST_WIDTH = 324;
    private static final int POINTS_OF_A_LINE = 2;

    private final Stage stage;
    private final WindowContext context;
    private final Runnable onFirstCurve;
    private final ThrottledDoor door;
    private final WindowWork work;

    private final CabinetList list;
    private final DetailPane detail;
    private final SpanBar spans;
    private final ChartPane chart;
    private final AlarmStrip strip;
    private final AlarmPane alarms;
    private final EvennessDesk evenness;
    private final OutagesDesk outages;
    private final EmptyPane empty = new EmptyPane();
    private final CommandDesk commands;
    private final Label clock = Nodes.label("");
    private final UnitSwitch unit;
    private final BorderPane content = new BorderPane();
    private final CurvesPane curves;
    private final StackPane root;

    /** Used by the window's thread only. */
    private boolean hasShownCurve;

    /** What stands in the middle. Used by the window's thread only. */
    private Middle middle = Middle.CURVES;

    /** What a person looks at. */
    private enum Middle {
        CURVES,
        ALARMS,
        EVENNESS,
        OUTAGES
    }

    /** Written by the window's thread, read by the worker. */
    private volatile ViewState choices;

    private Optional<WindowModel> model = Optional.empty();

    private WindowScene(Stage stage, WindowContext context, Runnable onFirstCurve) {
        this.stage = stage;
        this.context = context;
        this.onFirstCurve = onFirstCurve;
        choices = WindowWork.atFirst(context);
        door = new ThrottledDoor(Platform::runLater, context.monotonic());
        list = new CabinetList(this::chooseToSee);
        detail =
                new DetailPane(
                        this::askSetPoint, this::askReset, this::showEvenness, this::showOutages);
        spans = new SpanBar(this::change);
        chart =
                new ChartPane(
                        port -> change(state -> state.withViewport(port.apply(state.viewport()))),
                        size -> change(state -> state.withChart(size)));
        unit = new UnitSwitch(its -> change(state -> state.withUnit(its)));
        work = new WindowWork(context, () -> choices, door, this);
        commands = new CommandDesk(context.commands(), door, content::setDisable, work::wake);
        alarms =
                new AlarmPane(
                        new AlarmHands(work::act, commands.sheet()),
                        its -> wantLog(),
                        this::showCurves);
        strip =
                new AlarmStrip(
                        id -> work.act(port -> port.acknowledge(id)), () -> show(Middle.ALARMS));
        evenness = new EvennessDesk(context, door, chart::span, this::showCurves, work::wake);
        outages = new OutagesDesk(context, door, this::showCurves, work::wake);
        curves = new CurvesPane(detail, spans, chart);
        root = new StackPane(content, commands.sheet());
        root.setStyle("-fx-font-family: \"" + Fonts.family() + "\";");
    }

    static WindowScene show(Stage stage, WindowContext context) {
        return show(stage, context, () -> {});
    }

    /**
     * As {@link #show(Stage, WindowContext)}.
     *
     * @param onFirstCurve runs once, on the window's thread, after the first picture with a line
     */
    static WindowScene show(Stage stage, WindowContext context, Runnable onFirstCurve) {
        WindowScene scene = new WindowScene(stage, context, onFirstCurve);
        scene.open();
        return scene;
    }

    private void open() {
        VBox top = new VBox(topBar());
        context.banner().ifPresent(words -> top.getChildren().add(Nodes.banner(words)));
        Nodes.show(strip, context.alarms() != WindowAlarms.NONE);
        top.getChildren().add(strip);
        content.setTop(top);
        list.setPrefWidth(LIST_WIDTH);
        list.setMinWidth(LIST_WIDTH);
        content.setLeft(list);
        content.setCenter(empty);
        Rectangle2D screen = Screen.getPrimary().getVisualBounds();
        Scene scene =
                new Scene(
                        root,
                        Math.min(WIDTH_AT_FIRST, screen.getWidth()),
                        Math.min(HEIGHT_AT_FIRST, screen.getHeight()));
        URL look = Objects.requireNonNull(WindowScene.class.getResource("evenwarm.css"));
        scene.getStylesheets().add(look.toExternalForm());
        scene.addEventFilter(KeyEvent.KEY_PRESSED, new Keys(this)::pressed);
        scene.widthProperty().addListener((its, before, now) -> arrange());
        stage.setScene(scene);
        stage.setTitle("Evenwarm");
        stage.setMinWidth(WIDTH_MIN);
        stage.setMinHeight(HEIGHT_MIN);
        stage.setOnHidden(event -> closed());
        spans.show(choices);
        unit.show(choices.unit());
        stage.show();
        root.requestFocus();
        work.start();
        evenness.start();
        outages.start();
    }

    void close() {
        stage.close();
    }

    /** Any thread may call this. */
    void standStill() {
        work.stop();
        evenness.stop();
        outages.stop();
    }

    private void closed() {
        standStill();
        context.onClosed().run();
    }

    private HBox topBar() {
        HBox bar = new HBox(Nodes.label("Evenwarm", "name"), Nodes.filler(), clock, unit);
        bar.getStyleClass().add("top-bar");
        return bar;
    }

    /** Where the log stands depends on the window's width. */
    private void arrange() {
        if (content.getCenter() == curves) {
            curves.arrange(content, stage.getScene().getWidth());
        } else {
            content.setRight(null);
        }
    }

    /** Applies a choice of the person, and has it drawn at once. */
    void change(UnaryOperator<ViewState> change) {
        ViewState before = choices;
        ViewState after = change.apply(before);
        if (after.equals(before)) {
            return;
        }
        choices = after;
        spans.show(after);
        unit.show(after.unit());
        work.wake();
    }

    @Override
    public void model(WindowModel its) {
        model = Optional.of(its);
        Nodes.text(clock, its.clock());
        list.show(its);
        if (its.detail().isPresent()) {
            detail.show(its.detail().get());
        } else {
            empty.show(its.agents());
        }
        fillMiddle();
    }

    private void fillMiddle() {
        boolean hasDetail = model.flatMap(WindowModel::detail).isPresent();
        Node cabinet = hasDetail ? curves : empty;
        Node there =
                switch (middle) {
                    case CURVES -> cabinet;
                    case ALARMS -> alarms;
                    case EVENNESS -> evenness.pane();
                    case OUTAGES -> outages.pane();
                };
        if (content.getCenter() != there) {
            content.setCenter(there);
            arrange();
        }
    }

    @Override
    public void alarms(AlarmsModel its) {
        strip.show(its);
        alarms.show(its);
    }

    /** Shows all alarms in the middle, or the curves where they stand there already. */
    void switchAlarms() {
        show(middle == Middle.ALARMS ? Middle.CURVES : Middle.ALARMS);
    }

    /** The same of the chosen cabinet's evenness. */
    void switchEvenness() {
        if (middle == Middle.EVENNESS) {
            showCurves();
        } else {
            showEvenness();
        }
    }

    /** The same of what the chosen cabinet went through. */
    void switchOutages() {
        if (middle == Middle.OUTAGES) {
            showCurves();
        } else {
            showOutages();
        }
    }

    private void showOutages() {
        Optional<Detail> there = model.flatMap(WindowModel::detail);
        // First the pane, so that its width is known when pictures are asked for.
        show(there.isPresent() ? Middle.OUTAGES : middle);
        root.applyCss();
        root.layout();
        there.ifPresent(its -> outages.open(its, choices.unit()));
    }

    void showCurves() {
        show(Middle.CURVES);
    }

    private void showEvenness() {
        Optional<Detail> there = model.flatMap(WindowModel::detail);
        there.ifPresent(its -> evenness.open(its, choices.unit()));
        show(there.isPresent() ? Middle.EVENNESS : middle);
    }

    private void show(Middle wanted) {
        if (wanted == middle) {
            return;
        }
        middle = wanted;
        // The same stands in the middle then, and a small window needs the room.
        Nodes.show(strip, middle != Middle.ALARMS && context.alarms() != WindowAlarms.NONE);
        fillMiddle();
        wantLog();
        root.requestFocus();
    }

    private void wantLog() {
        work.wantLog(middle == Middle.ALARMS && alarms.showsLog());
    }

    /** A person who chooses a cabinet wants to see it. */
    private void chooseToSee(CabinetKey key) {
        showCurves();
        change(state -> state.withSelected(key));
    }

    @Override
    public void chart(ChartUpdate its) {
        curves.caption(its.caption());
        spans.offerRoom(
                its.spec().probes().stream()
                        .anyMatch(probe -> probe.place().kind() == ProbePlace.Kind.AMBIENT));
        chart.show(its);
        if (!hasShownCurve
                && its.spec().probes().stream()
                        .anyMatch(probe -> probe.trace().size() >= POINTS_OF_A_LINE)) {
            hasShownCurve = true;
            onFirstCurve.run();
        }
    }

    @Override
    public void log(LogUpdate its) {
        curves.show(its);
    }

    /** Chooses the cabinet before (−1) or after (1) the chosen one. */
    void chooseNeighbour(int step) {
        List<CabinetKey> keys =
                model.map(its -> its.cards().stream().map(CabinetCard::key).toList())
                        .orElse(List.of());
        if (keys.isEmpty()) {
            return;
        }
        // From what was chosen last, even if the worker has not shown it yet.
        int at =
                choices.selected()
                        .or(() -> model.flatMap(WindowModel::detail).map(its -> its.card().key()))
                        .map(keys::indexOf)
                        .orElse(0);
        CabinetKey next = keys.get(Math.max(0, Math.min(keys.size() - 1, at + step)));
        change(state -> state.withSelected(next));
    }

    void moveInTime(double share) {
        chart.shown()
                .ifPresent(
                        its ->
                                change(
                                        state ->
                                                state.withViewport(
                                                        state.viewport()
                                                                .moved(
                                                                        its.picture().span(),
                                                                        share,
                                                                        its.now()))));
    }

    void switchUnit() {
        change(
                state ->
                        state.withUnit(
                                state.unit() == TemperatureUnit.CELSIUS
                                        ? TemperatureUnit.FAHRENHEIT
                                        : TemperatureUnit.CELSIUS));
    }

    boolean isAsking() {
        return commands.isAsking();
    }

    void askSetPoint() {
        model.flatMap(WindowModel::detail)
                .ifPresent(its -> commands.askSetPoint(its, choices.unit()));
    }

    void askReset() {
        model.flatMap(WindowModel::detail).ifPresent(its -> commands.askReset(its, choices.unit()));
    }

    ThrottledDoor door() {
        return door;
    }
}
