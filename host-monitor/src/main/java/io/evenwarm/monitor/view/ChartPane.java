package io.evenwarm.monitor.view;

import io.evenwarm.monitor.chart.ChartPicture;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.monitor.view.ViewState.ChartSize;
import io.evenwarm.monitor.view.WindowModel.ChartUpdate;
import java.nio.IntBuffer;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.UnaryOperator;
import javafx.scene.AccessibleRole;
import javafx.scene.control.Label;
import javafx.scene.image.ImageView;
import javafx.scene.image.PixelBuffer;
import javafx.scene.image.PixelFormat;
import javafx.scene.image.WritableImage;
import javafx.scene.input.MouseButton;
import javafx.scene.input.MouseEvent;
import javafx.scene.input.ScrollEvent;
import javafx.scene.layout.Pane;
import javafx.scene.layout.VBox;
import javafx.scene.shape.Line;
import javafx.scene.shape.Rectangle;

/**
 * The curves' picture, and the hand on it: the wheel zooms about the pointer, a drag zooms to what
 * it covers, a drag with Shift moves, and the pointer reads the curves off.
 */
final class ChartPane extends Pane {

    private static final double WHEEL_STEP = 1.25;
    private static final double WHEEL_MOVE_SHARE = 0.1;

    /** A shorter drag is a click. */
    private static final double DRAG_PIXELS_MIN = 6;

    private final ImageView view = new ImageView();
    private final Line cross = new Line();
    private final Rectangle selection = new Rectangle();
    private final VBox readout = new VBox();
    private final Label note = Nodes.label("", "chart-note");
    private final Consumer<UnaryOperator<Viewport>> onViewport;
    private final Consumer<ChartSize> onSize;
    private Optional<ChartUpdate> shown = Optional.empty();
    private Optional<Double> dragFrom = Optional.empty();

    ChartPane(Consumer<UnaryOperator<Viewport>> onViewport, Consumer<ChartSize> onSize) {
        this.onViewport = onViewport;
        this.onSize = onSize;
        setId("chart");
        setAccessibleRole(AccessibleRole.IMAGE_VIEW);
        setMinSize(0, 0);
        view.setPreserveRatio(false);
        cross.getStyleClass().add("chart-cross");
        selection.getStyleClass().add("chart-selection");
        readout.getStyleClass().add("readout");
        for (javafx.scene.Node over : new javafx.scene.Node[] {cross, selection, readout, note}) {
            over.setMouseTransparent(true);
            over.setVisible(false);
        }
        getChildren().addAll(view, cross, selection, readout, note);
        setOnScroll(this::scrolled);
        setOnMouseMoved(event -> read(event.getX()));
        setOnMouseExited(event -> hideReadout());
        setOnMousePressed(this::pressed);
        setOnMouseDragged(this::dragged);
        setOnMouseReleased(this::released);
    }

    @Override
    protected void layoutChildren() {
        double scale =
                getScene() == null || getScene().getWindow() == null
                        ? 1
                        : Math.max(1, Math.min(4, getScene().getWindow().getOutputScaleX()));
        onSize.accept(
                new ChartSize((int) Math.floor(getWidth()), (int) Math.floor(getHeight()), scale));
        note.autosize();
        note.relocate((getWidth() - note.getWidth()) / 2, getHeight() / 3);
    }

    void show(ChartUpdate update) {
        shown = Optional.of(update);
        ChartPicture picture = update.picture();
        // The pixels are used where they lie: the worker makes new ones for every picture.
        view.setImage(
                new WritableImage(
                        new PixelBuffer<>(
                                picture.pixelWidth(),
                                picture.pixelHeight(),
                                IntBuffer.wrap(picture.pixels()),
                                PixelFormat.getIntArgbPreInstance())));
        view.setFitWidth(update.spec().frame().width());
        view.setFitHeight(update.spec().frame().height());
        Nodes.text(note, update.note().orElse(""));
        note.setVisible(update.note().isPresent());
        setAccessibleText(
                "Curves of "
                        + update.key().cabinet()
                        + ", "
                        + update.caption()
                        + ". "
                        + String.join(
                                ". ", Readout.lines(update.spec(), update.spec().span().to())));
        requestLayout();
    }

    /** Which span is seen; empty before the first picture. */
    Optional<TimeSpan> span() {
        return shown.map(update -> update.picture().span());
    }

    Optional<ChartUpdate> shown() {
        return shown;
    }

    private void scrolled(ScrollEvent event) {
        if (shown.isEmpty()) {
            return;
        }
        ChartUpdate update = shown.get();
        ChartPicture picture = update.picture();
        double fraction = picture.fractionAt(event.getX());
        boolean sideways =
                event.isShiftDown() || Math.abs(event.getDeltaX()) > Math.abs(event.getDeltaY());
        double turn = event.getDeltaY() == 0 ? event.getDeltaX() : event.getDeltaY();
        if (turn == 0) {
            return;
        }
        if (sideways) {
            double share = turn > 0 ? -WHEEL_MOVE_SHARE : WHEEL_MOVE_SHARE;
            onViewport.accept(port -> port.moved(picture.span(), share, update.now()));
        } else {
            double factor = turn > 0 ? 1 / WHEEL_STEP : WHEEL_STEP;
            onViewport.accept(port -> port.zoomed(picture.span(), fraction, factor, update.now()));
        }
        event.consume();
    }

    private void pressed(MouseEvent event) {
        if (event.getButton() == MouseButton.PRIMARY && shown.isPresent()) {
            dragFrom = Optional.of(event.getX());
        }
    }

    private void dragged(MouseEvent event) {
        if (dragFrom.isEmpty() || shown.isEmpty()) {
            return;
        }
        hideReadout();
        ChartPicture.PlotArea area = shown.get().picture().area();
        double from = clamp(dragFrom.get(), area.left(), area.right());
        double to = clamp(event.getX(), area.left(), area.right());
        selection.setX(Math.min(from, to));
        selection.setWidth(Math.abs(to - from));
        selection.setY(area.top());
        selection.setHeight(area.bottom() - area.top());
        selection.setVisible(true);
    }

    private void released(MouseEvent event) {
        selection.setVisible(false);
        if (dragFrom.isEmpty() || shown.isEmpty()) {
            return;
        }
        double from = dragFrom.get();
        dragFrom = Optional.empty();
        if (Math.abs(event.getX() - from) < DRAG_PIXELS_MIN) {
            return;
        }
        ChartUpdate update = shown.get();
        ChartPicture picture = update.picture();
        if (event.isShiftDown()) {
            double width = picture.area().right() - picture.area().left();
            double share = (from - event.getX()) / width;
            onViewport.accept(port -> port.moved(picture.span(), share, update.now()));
        } else {
            onViewport.accept(
                    port ->
                            port.between(
                                    picture.momentAt(from),
                                    picture.momentAt(event.getX()),
                                    update.now()));
        }
    }

    private void read(double x) {
        if (shown.isEmpty()) {
            return;
        }
        ChartUpdate update = shown.get();
        ChartPicture.PlotArea area = update.picture().area();
        if (x < area.left() || x > area.right()) {
            hideReadout();
            return;
        }
        cross.setStartX(x);
        cross.setEndX(x);
        cross.setStartY(area.top());
        cross.setEndY(area.bottom());
        readout.getChildren()
                .setAll(
                        Readout.lines(update.spec(), update.picture().momentAt(x)).stream()
                                .map(line -> Nodes.label(line))
                                .toList());
        readout.applyCss();
        readout.autosize();
        boolean right = x + 12 + readout.getWidth() < area.right();
        readout.relocate(right ? x + 12 : x - 12 - readout.getWidth(), area.top() + 8);
        cross.setVisible(true);
        readout.setVisible(true);
    }

    private void hideReadout() {
        cross.setVisible(false);
        readout.setVisible(false);
    }

    private static double clamp(double value, double low, double high) {
        return Math.max(low, Math.min(high, value));
    }
}
