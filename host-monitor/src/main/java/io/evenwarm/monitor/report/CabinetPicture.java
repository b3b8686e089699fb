package io.evenwarm.monitor.report;

import io.evenwarm.monitor.evenness.Estimate;
import io.evenwarm.monitor.evenness.EvennessFigures;
import io.evenwarm.monitor.evenness.PointFigures;
import io.evenwarm.monitor.evenness.Position;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.report.Picture.Anchor;
import io.evenwarm.monitor.report.Picture.Style;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.TreeSet;

/**
 * Pictures of a cabinet: its heights from top to bottom, left and right as seen from the door, a
 * slice for each depth at which there is a point. Each point has its number; its colour says the
 * same again, and so does its grey: the colours get lighter as it gets warmer.
 */
public final class CabinetPicture {

    private static final int CELL_WIDTH = 128;
    private static final int CELL_HEIGHT = 66;
    private static final int MARGIN = 14;
    private static final int HEAD = 26;
    private static final int COLUMNS = 3;

    /**
     * Of cividis: readable with each kind of colour blindness, and in grey (Nuñez, Anderton and
     * Renslow, PLoS ONE 13 (2018) e0199239; values from memory).
     */
    private static final String[] COLDEST_TO_WARMEST = {
        "#00204c", "#31446b", "#666970", "#958f78", "#cbba69", "#ffe945"
    };

    /** From here on the text on it is dark: contrast 4.5 and more on either side. */
    private static final int FIRST_LIGHT = 3;

    private final EvennessFigures figures;
    private final Wording wording;
    private final List<Picture> pictures = new ArrayList<>();

    private CabinetPicture(EvennessFigures figures, Wording wording) {
        this.figures = figures;
        this.wording = wording;
    }

    /** One for each slice and a legend; none where no point says where it is. */
    public static List<Picture> of(EvennessFigures figures, Wording wording) {
        CabinetPicture picture = new CabinetPicture(figures, wording);
        picture.draw();
        return List.copyOf(picture.pictures);
    }

    private void draw() {
        List<PointFigures> drawn =
                figures.points().stream()
                        .filter(point -> point.position().spot().isPresent())
                        .toList();
        if (drawn.isEmpty()) {
            return;
        }
        TreeSet<Double> heights = new TreeSet<>(Comparator.reverseOrder());
        TreeSet<Double> depths = new TreeSet<>();
        for (PointFigures point : drawn) {
            Position.Spot spot = spot(point);
            heights.add(spot.up());
            depths.add(spot.back());
        }
        for (double depth : depths) {
            List<PointFigures> slice =
                    drawn.stream().filter(point -> spot(point).back() == depth).toList();
            slice(slice, new ArrayList<>(heights), depth, depths.size() > 1);
        }
        legend();
    }

    private static Position.Spot spot(PointFigures point) {
        return point.position().spot().orElseThrow();
    }

    private static int column(Position.Spot spot) {
        return (int) Math.round(spot.across() * (COLUMNS - 1));
    }

    private void slice(
            List<PointFigures> points, List<Double> heights, double depth, boolean isOneOfMany) {
        int[] rowHeights = new int[heights.size()];
        int inside = 0;
        for (int row = 0; row < rowHeights.length; row++) {
            int most = 1;
            for (int column = 0; column < COLUMNS; column++) {
                most = Math.max(most, at(points, heights.get(row), column).size());
            }
            rowHeights[row] = most * CELL_HEIGHT + 10;
            inside += rowHeights[row];
        }
        int width = COLUMNS * CELL_WIDTH + 2 * MARGIN;
        int height = HEAD + inside + 2 * MARGIN;
        String title = isOneOfMany ? depthWords(depth) : "seen from the door";
        Picture.Maker maker = new Picture.Maker();
        maker.words(MARGIN, 17, title, Style.SLICE, Anchor.START);
        maker.walls(2, HEAD, width - 4, height - HEAD - 2);
        int y = HEAD + MARGIN;
        for (int row = 0; row < rowHeights.length; row++) {
            for (int column = 0; column < COLUMNS; column++) {
                List<PointFigures> here = at(points, heights.get(row), column);
                for (int i = 0; i < here.size(); i++) {
                    cell(maker, here.get(i), MARGIN + column * CELL_WIDTH, y + i * CELL_HEIGHT);
                }
            }
            int shelf = y + rowHeights[row] - 6;
            if (row < rowHeights.length - 1) {
                maker.line(8, shelf, width - 8, shelf, 1.5, false);
            }
            y += rowHeights[row];
        }
        pictures.add(maker.make(width, height, "cabinet, " + title));
    }

    private static String depthWords(double depth) {
        return depth == 0 ? "at the door" : depth == 1 ? "at the back" : "half way in";
    }

    private static List<PointFigures> at(List<PointFigures> points, double up, int column) {
        return points.stream()
                .filter(point -> spot(point).up() == up && column(spot(point)) == column)
                .toList();
    }

    private void cell(Picture.Maker maker, PointFigures point, int x, int y) {
        int shade = shade(point.mean().value());
        String ink = shade < FIRST_LIGHT ? Picture.PAPER : Picture.INK;
        String mark =
                switch (point.spot()) {
                    case HOT_SPOT -> "▲ hot spot";
                    case DEAD_SPOT -> "▼ dead spot";
                    case ORDINARY -> "";
                };
        maker.box(
                x + 3,
                y,
                CELL_WIDTH - 6,
                CELL_HEIGHT - 4,
                COLDEST_TO_WARMEST[shade],
                mark.isEmpty() ? 1 : 4);
        line(maker, x, y + 21, value(point), Style.VALUE, ink);
        line(maker, x, y + 38, shortened(point.position().label()), Style.PLACE, ink);
        line(maker, x, y + 54, mark.isEmpty() ? deviation(point) : mark, Style.PLACE, ink);
    }

    private static void line(
            Picture.Maker maker, int x, int y, String text, Style style, String ink) {
        maker.add(new Picture.Words(x + 10, y, text, style, Anchor.START, ink));
    }

    private static String shortened(String label) {
        return label.length() <= 19 ? label : label.substring(0, 18) + "…";
    }

    private String value(PointFigures point) {
        return wording.value(figures.measure(), point.mean().value());
    }

    private String deviation(PointFigures point) {
        return point.deviation().map(this::signed).orElse("");
    }

    private String signed(Estimate deviation) {
        return "off by " + wording.signed(figures.measure(), deviation.value());
    }

    private int shade(double value) {
        double coldest = figures.points().get(figures.coldest()).mean().value();
        double warmest = figures.points().get(figures.warmest()).mean().value();
        if (warmest <= coldest) {
            return 0;
        }
        double share = (value - coldest) / (warmest - coldest);
        return (int)
                Math.min(
                        COLDEST_TO_WARMEST.length - 1,
                        Math.floor(share * COLDEST_TO_WARMEST.length));
    }

    private void legend() {
        double coldest = figures.points().get(figures.coldest()).mean().value();
        double warmest = figures.points().get(figures.warmest()).mean().value();
        int width = COLUMNS * CELL_WIDTH + 2 * MARGIN;
        int step = (width - 2 * MARGIN) / COLDEST_TO_WARMEST.length;
        Picture.Maker maker = new Picture.Maker();
        for (int i = 0; i < COLDEST_TO_WARMEST.length; i++) {
            maker.box(MARGIN + i * step, 4, step, 14, COLDEST_TO_WARMEST[i], 1);
        }
        maker.words(
                MARGIN,
                34,
                "coldest " + wording.value(figures.measure(), coldest),
                Style.SLICE,
                Anchor.START);
        maker.words(
                width - MARGIN,
                34,
                "warmest " + wording.value(figures.measure(), warmest),
                Style.SLICE,
                Anchor.END);
        pictures.add(maker.make(width, 40, "legend"));
    }
}
