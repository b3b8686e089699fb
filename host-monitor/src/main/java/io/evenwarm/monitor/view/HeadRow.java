package io.evenwarm.monitor.view;

import javafx.geometry.Orientation;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Pane;

/** A heading with its buttons at the right, or, where both don't fit side by side, below it. */
final class HeadRow extends Pane {

    private static final double GAP = 12;
    private static final double ROW_GAP = 4;

    private final HBox heading;
    private final HBox buttons;

    HeadRow(HBox heading, HBox buttons) {
        this.heading = heading;
        this.buttons = buttons;
        getChildren().addAll(heading, buttons);
    }

    @Override
    public Orientation getContentBias() {
        return Orientation.HORIZONTAL;
    }

    private boolean fits(double width) {
        return heading.prefWidth(-1) + GAP + buttons.prefWidth(-1) <= width;
    }

    @Override
    protected double computeMinWidth(double height) {
        return buttons.minWidth(-1);
    }

    @Override
    protected double computePrefWidth(double height) {
        return heading.prefWidth(-1) + GAP + buttons.prefWidth(-1);
    }

    @Override
    protected double computeMinHeight(double width) {
        return computePrefHeight(width);
    }

    @Override
    protected double computePrefHeight(double width) {
        double above = heading.prefHeight(-1);
        double below = buttons.prefHeight(-1);
        return width < 0 || fits(width) ? Math.max(above, below) : above + ROW_GAP + below;
    }

    @Override
    protected void layoutChildren() {
        double width = getWidth();
        double above = heading.prefHeight(-1);
        double below = buttons.prefHeight(-1);
        double its = Math.min(width, buttons.prefWidth(-1));
        if (fits(width)) {
            double height = Math.max(above, below);
            heading.resizeRelocate(0, 0, width - its - GAP, height);
            buttons.resizeRelocate(width - its, 0, its, height);
        } else {
            heading.resizeRelocate(0, 0, width, above);
            buttons.resizeRelocate(0, above + ROW_GAP, its, below);
        }
    }
}
