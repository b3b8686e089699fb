package io.evenwarm.monitor.report;

import io.evenwarm.monitor.evenness.FanDay;
import io.evenwarm.monitor.evenness.Measure;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.report.Picture.Anchor;
import io.evenwarm.monitor.report.Picture.Style;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.ToDoubleFunction;

/**
 * Two charts of how a cabinet's air flow went, day by day: what parts top and bottom beside what
 * the heat explains, and the sum of what it does not explain beside the limit at which it is
 * called. Lines differ by their dashes and words, not by colour alone.
 */
public final class AirFlowPicture {

    /** Of a page to print. */
    public static final int PAGE_WIDTH = 860;

    /** Of a small window beside its list of cabinets. */
    public static final int WINDOW_WIDTH = 620;

    private static final int LEFT = 64;
    private static final int RIGHT = 14;
    private static final int TOP = 52;
    private static final int PLOT = 170;
    private static final int BOTTOM = 30;

    /** Two of Okabe and Ito's palette, which colour-blind people tell apart. */
    private static final String BLUE = "#0072b2";

    private static final String VERMILLION = "#d55e00";

    private final List<FanDay> days;
    private final Wording wording;
    private final int width;

    private AirFlowPicture(List<FanDay> days, Wording wording, int width) {
        this.width = width;
        this.days = days;
        this.wording = wording;
    }

    /** None while there are fewer than two days. */
    public static List<Picture> of(List<FanDay> days, Wording wording, int width) {
        if (days.size() < 2) {
            return List.of();
        }
        AirFlowPicture picture = new AirFlowPicture(days, wording, width);
        return List.of(picture.partings(), picture.sums());
    }

    private Picture partings() {
        double most = 0;
        double least = 0;
        for (FanDay day : days) {
            most = Math.max(most, Math.max(day.partingKelvin(), day.expectedKelvin()));
            least = Math.min(least, Math.min(day.partingKelvin(), day.expectedKelvin()));
        }
        Plot plot = new Plot(shown(least), shown(most) * 1.08 + 1e-6);
        String unit = wording.unitOfDifference(Measure.TEMPERATURE);
        Picture.Maker maker = plot.begin("Top minus bottom, " + unit);
        plot.curve(maker, day -> shown(day.expectedKelvin()), Picture.INK, true);
        plot.curve(maker, day -> shown(day.partingKelvin()), BLUE, false);
        plot.key(maker, LEFT, "measured", BLUE, false);
        plot.key(maker, LEFT + 180, "explained by the heat", Picture.INK, true);
        return plot.end(maker, "top minus bottom by day");
    }

    private double shown(double kelvin) {
        return wording.unit().fromKelvin(kelvin);
    }

    private Picture sums() {
        double most = 1.2;
        for (FanDay day : days) {
            most = Math.max(most, day.sum() * 1.08);
        }
        Plot plot = new Plot(0, most);
        Picture.Maker maker = plot.begin("Sum of what is not explained (CUSUM)");
        double limit = plot.y(1);
        maker.line(LEFT, limit, width - RIGHT, limit, 1.5, true);
        plot.curve(maker, FanDay::sum, VERMILLION, false);
        plot.key(maker, LEFT, "called from here on: 1", Picture.INK, true);
        return plot.end(maker, "sum of what the heat does not explain by day");
    }

    /** One chart's scales. */
    private final class Plot {

        private final double low;
        private final double high;
        private final long first = days.get(0).beginMillis();
        private final long last = days.get(days.size() - 1).beginMillis();

        Plot(double low, double high) {
            this.low = low;
            this.high = high;
        }

        double x(FanDay day) {
            return LEFT
                    + (width - LEFT - RIGHT)
                            * (day.beginMillis() - first)
                            / (double) Math.max(1, last - first);
        }

        double y(double value) {
            return TOP + PLOT * (1 - (value - low) / (high - low));
        }

        Picture.Maker begin(String title) {
            Picture.Maker maker = new Picture.Maker();
            maker.words(2, 16, title, Style.SLICE, Anchor.START);
            maker.box(LEFT, TOP, width - LEFT - RIGHT, PLOT, Picture.PAPER, 1);
            double step = Scale.step(high - low);
            for (double tick = Math.ceil(low / step) * step; tick <= high; tick += step) {
                maker.line(LEFT - 4, y(tick), LEFT, y(tick), 1, false);
                maker.words(
                        LEFT - 8,
                        y(tick) + 4,
                        String.format(Locale.ROOT, step < 0.1 ? "%.2f" : "%.1f", tick + 0.0),
                        Style.PLACE,
                        Anchor.END);
            }
            int labels = Math.min(6, days.size());
            for (int i = 0; i < labels; i++) {
                FanDay day = days.get(i * (days.size() - 1) / Math.max(1, labels - 1));
                maker.line(x(day), TOP + PLOT, x(day), TOP + PLOT + 4, 1, false);
                maker.words(
                        x(day),
                        TOP + PLOT + 18,
                        wording.day(Instant.ofEpochMilli(day.beginMillis())),
                        Style.PLACE,
                        i == 0 ? Anchor.START : i == labels - 1 ? Anchor.END : Anchor.MIDDLE);
            }
            return maker;
        }

        /** With a gap where days are missing. */
        void curve(
                Picture.Maker maker,
                ToDoubleFunction<FanDay> value,
                String colour,
                boolean isDashed) {
            List<Double> xs = new ArrayList<>();
            List<Double> ys = new ArrayList<>();
            Optional<FanDay> before = Optional.empty();
            for (FanDay day : days) {
                boolean isGap =
                        before.map(b -> day.beginMillis() - b.beginMillis() > 4 * 86_400_000L)
                                .orElse(false);
                if (isGap) {
                    maker.add(new Picture.Line(xs, ys, colour, 2, isDashed));
                    xs.clear();
                    ys.clear();
                }
                xs.add(x(day));
                ys.add(y(value.applyAsDouble(day)));
                before = Optional.of(day);
            }
            maker.add(new Picture.Line(xs, ys, colour, 2, isDashed));
        }

        void key(Picture.Maker maker, double x, String words, String colour, boolean isDashed) {
            maker.add(
                    new Picture.Line(List.of(x, x + 34), List.of(34.0, 34.0), colour, 2, isDashed));
            maker.words(x + 42, 38, words, Style.SLICE, Anchor.START);
        }

        Picture end(Picture.Maker maker, String title) {
            return maker.make(width, TOP + PLOT + BOTTOM, title);
        }
    }
}
