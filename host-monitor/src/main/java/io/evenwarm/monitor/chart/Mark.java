package io.evenwarm.monitor.chart;

import io.evenwarm.message.ProbePlace;
import java.awt.Shape;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Path2D;

/** The shape and the ink that stand for a probe's place, in curves and in numbers alike. */
public enum Mark {
    /** Points up: where warm air gathers. */
    TOP(Ink.VERMILLION, "M 0 -5 L 5 4 L -5 4 Z"),
    MIDDLE(Ink.BLUISH_GREEN, ""),
    /** Points down. */
    BOTTOM(Ink.BLUE, "M 0 5 L 5 -4 L -5 -4 Z"),
    TUB(Ink.REDDISH_PURPLE, "M 0 -5.5 L 5.5 0 L 0 5.5 L -5.5 0 Z"),
    /** An egg's outline; of what is estimated, not read. */
    EGGS(
            Ink.REDDISH_PURPLE,
            "M 0 -6 L 2.6 -4 L 4.2 -0.5 L 4.4 2 L 3 4.6 L 0 5.6 L -3 4.6 L -4.4 2 L -4.2 -0.5"
                    + " L -2.6 -4 Z"),
    AMBIENT(Ink.QUIET_TEXT, "M -5 4.5 L -5 -1 L 0 -5.5 L 5 -1 L 5 4.5 Z"),
    OTHER(Ink.SKY_BLUE, "M -4 -4 L 4 -4 L 4 4 L -4 4 Z"),
    SET_POINT(Ink.TEXT, "M -6 -1 L 6 -1 L 6 1 L -6 1 Z");

    private static final double CIRCLE_RADIUS = 4.5;

    private final Ink ink;
    private final String path;

    Mark(Ink ink, String path) {
        this.ink = ink;
        this.path = path;
    }

    public static Mark of(ProbePlace.Kind kind) {
        return switch (kind) {
            case TOP -> TOP;
            case MIDDLE -> MIDDLE;
            case BOTTOM -> BOTTOM;
            case TUB -> TUB;
            case AMBIENT -> AMBIENT;
            case OTHER -> OTHER;
        };
    }

    public Ink ink() {
        return ink;
    }

    /** An SVG path (M, L, Z only) around the origin, about 10 by 10; empty for a circle. */
    public String path() {
        return path;
    }

    /** The same shape for AWT, around a point. */
    Shape shape(double x, double y) {
        if (path.isEmpty()) {
            return new Ellipse2D.Double(
                    x - CIRCLE_RADIUS, y - CIRCLE_RADIUS, 2 * CIRCLE_RADIUS, 2 * CIRCLE_RADIUS);
        }
        Path2D shape = new Path2D.Double();
        String[] words = path.split(" ", -1);
        for (int i = 0; i < words.length; i++) {
            switch (words[i]) {
                case "M" -> shape.moveTo(x + number(words, i + 1), y + number(words, i + 2));
                case "L" -> shape.lineTo(x + number(words, i + 1), y + number(words, i + 2));
                case "Z" -> shape.closePath();
                default -> {
                    // A coordinate, read with its command.
                }
            }
        }
        return shape;
    }

    private static double number(String[] words, int index) {
        return Double.parseDouble(words[index]);
    }
}
