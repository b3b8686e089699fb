package io.evenwarm.monitor.report;

import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.outage.TubCourse;
import io.evenwarm.monitor.report.Picture.Anchor;
import io.evenwarm.monitor.report.Picture.Style;
import java.util.List;
import java.util.Locale;

/**
 * How long a tub's eggs had which temperature: a bar for each {@value TubCourse#BIN_KELVIN} K, with
 * its hours in words. What was reconstructed is a part of its own, hatched and called so.
 */
public final class TubPicture {

    /** Of a page to print. */
    public static final int PAGE_WIDTH = 860;

    private static final int LEFT = 130;
    private static final int RIGHT = 150;
    private static final int TOP = 50;
    private static final int ROW = 20;

    /** Of Okabe and Ito's palette. */
    private static final String BLUE = "#0072b2";

    private TubPicture() {}

    /** None where nothing is known. */
    public static List<Picture> of(TubCourse course, Wording wording, int width) {
        if (course.bins().isEmpty()) {
            return List.of();
        }
        Picture.Maker maker = new Picture.Maker();
        maker.words(
                2,
                16,
                "Hours by the most likely temperature of its eggs",
                Style.SLICE,
                Anchor.START);
        maker.box(LEFT, 26, 34, 12, BLUE, 1);
        maker.words(LEFT + 42, 36, "estimated from the air", Style.SLICE, Anchor.START);
        hatched(maker, LEFT + 240, 26, 34, 12);
        maker.words(LEFT + 282, 36, "reconstructed, no readings", Style.SLICE, Anchor.START);
        double most =
                course.bins().stream()
                        .mapToDouble(bin -> bin.estimatedHours() + bin.reconstructedHours())
                        .max()
                        .orElse(1);
        double scale = (width - LEFT - RIGHT) / Math.max(most, 1e-9);
        long first = Math.round(course.bins().get(0).fromCelsius() / TubCourse.BIN_KELVIN);
        int rows = 0;
        for (TubCourse.Bin bin : course.bins()) {
            long row = Math.round(bin.fromCelsius() / TubCourse.BIN_KELVIN) - first;
            double y = TOP + row * ROW;
            rows = (int) row + 1;
            maker.words(
                    LEFT - 8,
                    y + 14,
                    degrees(wording, bin.fromCelsius())
                            + " to "
                            + degrees(wording, bin.fromCelsius() + TubCourse.BIN_KELVIN)
                            + " "
                            + wording.unit().symbol(),
                    Style.PLACE,
                    Anchor.END);
            double estimated = bin.estimatedHours() * scale;
            double reconstructed = bin.reconstructedHours() * scale;
            if (estimated > 0) {
                maker.box(LEFT, y + 2, estimated, ROW - 4, BLUE, 1);
            }
            if (reconstructed > 0) {
                hatched(maker, LEFT + estimated, y + 2, Math.max(2, reconstructed), ROW - 4);
            }
            maker.words(
                    LEFT + estimated + reconstructed + 8,
                    y + 14,
                    hours(bin),
                    Style.PLACE,
                    Anchor.START);
        }
        return List.of(
                maker.make(
                        width,
                        TOP + rows * ROW + 8,
                        "histogram of what the tub's eggs are taken to have had"));
    }

    private static String hours(TubCourse.Bin bin) {
        String all =
                String.format(
                        Locale.ROOT, "%.1f h", bin.estimatedHours() + bin.reconstructedHours());
        return bin.reconstructedHours() > 0
                ? String.format(Locale.ROOT, "%s, %.1f h of it rec.", all, bin.reconstructedHours())
                : all;
    }

    private static String degrees(Wording wording, double celsius) {
        return String.format(Locale.ROOT, "%.1f", wording.unit().fromCelsius(celsius));
    }

    /** Readable in grey, and in print of two colours. */
    private static void hatched(
            Picture.Maker maker, double x, double y, double width, double height) {
        maker.box(x, y, width, height, Picture.PAPER, 1);
        for (double at = x + 4; at < x + width; at += 4) {
            maker.line(at, y, at, y + height, 0.8, false);
        }
    }
}
