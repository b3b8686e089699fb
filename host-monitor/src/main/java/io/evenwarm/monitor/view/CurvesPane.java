package io.evenwarm.monitor.view;

import javafx.scene.control.Label;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.Priority;
import javafx.scene.layout.VBox;

/**
 * The chosen cabinet: what is wrong with it, its curves, and its log below them or, in a wide
 * window, at their right. Belongs to the window's thread.
 */
final class CurvesPane extends VBox {

    /** From this width of the window on the log stands beside the curves and not below them. */
    private static final double WIDE = 1500;

    private static final double LOG_WIDTH = 368;
    private static final double LOG_HEIGHT = 124;

    private final LogPane log = new LogPane();
    private final Label caption = Nodes.label("", "small", "quiet");

    CurvesPane(DetailPane detail, SpanBar spans, ChartPane chart) {
        super(detail, spans, chart);
        getChildren().add(caption);
        getStyleClass().add("detail");
        VBox.setVgrow(chart, Priority.ALWAYS);
    }

    /** Says which span the curves show. */
    void caption(String words) {
        Nodes.text(caption, words);
    }

    void show(WindowModel.LogUpdate its) {
        log.show(its);
    }

    /**
     * Places the log.
     *
     * @param content whose middle this is
     * @param width of the window
     */
    void arrange(BorderPane content, double width) {
        boolean wide = width >= WIDE;
        log.setNarrow(wide);
        if (wide) {
            getChildren().remove(log);
            log.setPrefSize(LOG_WIDTH, -1);
            log.setMinWidth(LOG_WIDTH);
            content.setRight(log);
        } else {
            log.setMinWidth(0);
            log.setPrefSize(-1, LOG_HEIGHT);
            log.setMinHeight(LOG_HEIGHT);
            content.setRight(null);
            if (!getChildren().contains(log)) {
                getChildren().add(log);
            }
        }
    }
}
