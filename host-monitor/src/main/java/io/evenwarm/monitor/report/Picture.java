package io.evenwarm.monitor.report;

import java.util.ArrayList;
import java.util.List;

/**
 * A drawing as shapes, in the order in which they are drawn. Lengths are those of a page at 96 dots
 * an inch.
 *
 * @param title what it shows, for who can't see it
 */
public record Picture(double width, double height, String title, List<Shape> shapes) {

    public static final String INK = "#10181c";
    public static final String PAPER = "#ffffff";

    public Picture {
        shapes = List.copyOf(shapes);
    }

    /** One part of a picture. */
    public sealed interface Shape {

        /** Handles every case. */
        <R> R fold(Painter<R> painter);
    }

    /** Draws shapes. */
    public interface Painter<R> {
        R box(Box box);

        R line(Line line);

        R words(Words words);

        R area(Area area);
    }

    /**
     * A rectangle.
     *
     * @param fill a colour as {@code #rrggbb}
     * @param edge how wide its edge is, 0 for none
     * @param round radius of its corners
     */
    public record Box(
            double x, double y, double width, double height, String fill, double edge, double round)
            implements Shape {
        @Override
        public <R> R fold(Painter<R> painter) {
            return painter.box(this);
        }
    }

    /**
     * Straight lines from point to point.
     *
     * @param xs of the points
     * @param ys of the points, as many
     * @param colour as {@code #rrggbb}
     */
    public record Line(
            List<Double> xs, List<Double> ys, String colour, double width, boolean isDashed)
            implements Shape {

        public Line {
            xs = List.copyOf(xs);
            ys = List.copyOf(ys);
            requireSame(xs, ys);
        }

        @Override
        public <R> R fold(Painter<R> painter) {
            return painter.line(this);
        }
    }

    /**
     * A filled area without an edge.
     *
     * @param xs of its corners
     * @param ys of its corners, as many
     * @param fill a colour as {@code #rrggbb}
     */
    public record Area(List<Double> xs, List<Double> ys, String fill) implements Shape {

        public Area {
            xs = List.copyOf(xs);
            ys = List.copyOf(ys);
            requireSame(xs, ys);
        }

        @Override
        public <R> R fold(Painter<R> painter) {
            return painter.area(this);
        }
    }

    private static void requireSame(List<Double> xs, List<Double> ys) {
        if (xs.size() != ys.size()) {
            throw new IllegalArgumentException(
                    "points need as many xs as ys but had " + xs.size() + ", " + ys.size());
        }
    }

    /** How big words are. */
    public enum Style {
        VALUE(18, true),
        SLICE(13, false),
        PLACE(11, false);

        private final double size;
        private final boolean isBold;

        Style(double size, boolean isBold) {
            this.size = size;
            this.isBold = isBold;
        }

        /** Height of the font. */
        public double size() {
            return size;
        }

        public boolean isBold() {
            return isBold;
        }
    }

    /** On which side of their point words stand. */
    public enum Anchor {
        START,
        MIDDLE,
        END
    }

    /**
     * Words on one line.
     *
     * @param y of the line that they stand on
     * @param colour as {@code #rrggbb}
     */
    public record Words(double x, double y, String text, Style style, Anchor anchor, String colour)
            implements Shape {
        @Override
        public <R> R fold(Painter<R> painter) {
            return painter.words(this);
        }
    }

    /** Collects shapes. */
    static final class Maker {

        private final List<Shape> shapes = new ArrayList<>();

        void box(double x, double y, double width, double height, String fill, double edge) {
            shapes.add(new Box(x, y, width, height, fill, edge, 0));
        }

        void walls(double x, double y, double width, double height) {
            shapes.add(new Box(x, y, width, height, "#f3f1ec", 3, 6));
        }

        void line(
                double fromX, double fromY, double toX, double toY, double width, boolean dashed) {
            shapes.add(new Line(List.of(fromX, toX), List.of(fromY, toY), INK, width, dashed));
        }

        void add(Shape shape) {
            shapes.add(shape);
        }

        void words(double x, double y, String text, Style style, Anchor anchor) {
            shapes.add(new Words(x, y, text, style, anchor, INK));
        }

        Picture make(double width, double height, String title) {
            return new Picture(width, height, title, shapes);
        }
    }
}
