package io.evenwarm.monitor.view;

import io.evenwarm.monitor.chart.Ink;
import io.evenwarm.monitor.chart.Mark;
import java.util.List;
import javafx.scene.Node;
import javafx.scene.control.Label;
import javafx.scene.control.ToggleButton;
import javafx.scene.control.Tooltip;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.StackPane;
import javafx.scene.paint.Color;
import javafx.scene.shape.Circle;
import javafx.scene.shape.SVGPath;
import javafx.scene.shape.Shape;
import javafx.scene.shape.StrokeLineCap;

/** Small parts that every pane is made of. */
final class Nodes {

    private static final double MARK_BOX = 14;

    private Nodes() {}

    static Label label(String text, String... styles) {
        Label label = new Label(text);
        label.getStyleClass().addAll(styles);
        return label;
    }

    /** A short label that is never cut off for the sake of its neighbours, whatever the type. */
    static Label whole(String text, String... styles) {
        Label label = label(text, styles);
        label.setMinWidth(Region.USE_PREF_SIZE);
        return label;
    }

    /** A label that wraps onto as many lines as it needs. */
    static Label wrapping(String text, String... styles) {
        Label label = label(text, styles);
        label.setWrapText(true);
        label.setMinHeight(Region.USE_PREF_SIZE);
        return label;
    }

    /** One of several choices side by side. */
    static ToggleButton segment(String words, String id, String place) {
        ToggleButton button = new ToggleButton(words);
        button.setId(id);
        button.getStyleClass().addAll("segment", place);
        button.setMinWidth(Region.USE_PREF_SIZE);
        return button;
    }

    static Region filler() {
        Region filler = new Region();
        HBox.setHgrow(filler, Priority.ALWAYS);
        return filler;
    }

    static void hint(Node node, String text) {
        Tooltip.install(node, new Tooltip(text));
        node.setAccessibleHelp(text);
    }

    /** Takes a node out of the layout, or puts it back. */
    static void show(Node node, boolean shown) {
        node.setVisible(shown);
        node.setManaged(shown);
    }

    /** Changes the text only where it differs, so that nothing is laid out again for nothing. */
    static void text(Label label, String text) {
        if (!label.getText().equals(text)) {
            label.setText(text);
        }
    }

    static void style(Node node, String style, boolean on) {
        List<String> styles = node.getStyleClass();
        if (on && !styles.contains(style)) {
            styles.add(style);
        } else if (!on) {
            styles.remove(style);
        }
    }

    static Color color(Ink ink) {
        return Color.web(ink.css());
    }

    /** The same shape that stands at the probe's curve. */
    static Node mark(Mark mark, boolean alive) {
        Shape shape = mark.path().isEmpty() ? new Circle(4.5) : path(mark.path());
        Color color = color(mark.ink());
        if (alive) {
            shape.setFill(color);
        } else {
            shape.setFill(Color.TRANSPARENT);
            shape.setStroke(color(Ink.LIMIT_LINE));
        }
        return boxed(shape, MARK_BOX);
    }

    /** The shape that stands for a state. */
    static Node state(CardState.Shape shape) {
        Shape drawn =
                switch (shape) {
                    case DISC -> filled(new Circle(5), Ink.BLUISH_GREEN);
                    case RING -> stroked(new Circle(4), Ink.BLUE);
                    case TRIANGLE -> filled(path("M 0 -6 L 6.5 5 L -6.5 5 Z"), Ink.VERMILLION);
                    case OCTAGON ->
                            filled(
                                    path(
                                            "M -2.5 -6 L 2.5 -6 L 6 -2.5 L 6 2.5 L 2.5 6 L -2.5 6"
                                                    + " L -6 2.5 L -6 -2.5 Z"),
                                    Ink.VERMILLION);
                    case DIAMOND -> filled(path("M 0 -6 L 6 0 L 0 6 L -6 0 Z"), Ink.ORANGE);
                    case BROKEN_RING -> {
                        Shape ring = stroked(new Circle(4.5), Ink.QUIET_TEXT);
                        ring.getStrokeDashArray().addAll(4.0, 3.0);
                        yield ring;
                    }
                    case HOLLOW_TRIANGLE -> {
                        Shape triangle = stroked(path("M 0 -5 L 5.5 4 L -5.5 4 Z"), Ink.QUIET_TEXT);
                        triangle.setStrokeWidth(1.4);
                        yield triangle;
                    }
                    case DOT -> filled(new Circle(2.5), Ink.QUIET_TEXT);
                    case CROSS -> stroked(path("M -4 -4 L 4 4 M 4 -4 L -4 4"), Ink.TEXT);
                };
        return boxed(drawn, MARK_BOX);
    }

    private static Shape path(String content) {
        SVGPath path = new SVGPath();
        path.setContent(content);
        return path;
    }

    private static Shape filled(Shape shape, Ink ink) {
        shape.setFill(color(ink));
        return shape;
    }

    private static Shape stroked(Shape shape, Ink ink) {
        shape.setFill(Color.TRANSPARENT);
        shape.setStroke(color(ink));
        shape.setStrokeWidth(2.2);
        shape.setStrokeLineCap(StrokeLineCap.BUTT);
        return shape;
    }

    private static Node boxed(Shape shape, double size) {
        StackPane box = new StackPane(shape);
        box.setMinSize(size, size);
        box.setPrefSize(size, size);
        box.setMaxSize(size, size);
        box.setMouseTransparent(true);
        return box;
    }

    /** A line over all the window's width. */
    static HBox banner(String words) {
        HBox banner = new HBox(Nodes.wrapping(words));
        banner.getStyleClass().add("banner");
        return banner;
    }
}
