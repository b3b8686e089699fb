package io.evenwarm.monitor.report;

import io.evenwarm.message.Limits;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve;
import io.evenwarm.monitor.outage.Edge;
import io.evenwarm.monitor.outage.EggBand;
import io.evenwarm.monitor.outage.Outage;
import io.evenwarm.monitor.report.Picture.Anchor;
import io.evenwarm.monitor.report.Picture.Style;
import io.evenwarm.monitor.thermal.Span;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;

/**
 * The curve of an outage: the air as it was read, whole lines; the eggs as they were reconstructed,
 * dashed lines in a band, with the word; limits, begin and end with how well they are known, what
 * was dark, and when people were told. Nothing is told apart by colour alone.
 */
public final class OutagePicture {

    /** Of a page to print. */
    public static final int PAGE_WIDTH = 860;

    private static final int LEFT = 58;
    private static final int RIGHT = 14;

    private static final int TOP = 62;
    private static final int PLOT = 300;
    private static final int STRIPS = 22;
    private static final int LOW_PLOT = 110;
    private static final int AXIS = 34;

    /** Of Okabe and Ito's palette, which colour-blind people tell apart. */
    private static final String BLUE = "#0072b2";

    private static final String BAND = "#cfe0ea";
    private static final String DARK = "#eceae4";
    private static final String GREY = "#5c676d";

    private final OutageAccount account;
    private final Outage outage;
    private final Wording wording;
    private final int width;
    private final TimeAxis axis;

    private OutagePicture(OutageAccount account, Wording wording, int width) {
        this.account = account;
        this.wording = wording;
        this.width = width;
        outage = account.review().outage();
        axis =
                new TimeAxis(
                        account.measured().span().from(),
                        end(account),
                        LEFT,
                        width - RIGHT,
                        wording.zone());
    }

    /** Temperature, and below it humidity where a probe measures it. */
    public static List<Picture> of(OutageAccount account, Wording wording, int width) {
        OutagePicture picture = new OutagePicture(account, wording, width);
        List<Picture> pictures = new ArrayList<>();
        pictures.add(picture.temperature());
        picture.humidity().ifPresent(pictures::add);
        return pictures;
    }

    /** Nothing is drawn after the last that is known. */
    private static Instant end(OutageAccount account) {
        Instant last = account.review().outage().end().latest().plusSeconds(1800);
        for (ProbeCurve probe : account.measured().probes()) {
            Curve curve = probe.curve();
            if (curve.size() > 0) {
                Instant read = Instant.ofEpochMilli(curve.epochMillis(curve.size() - 1));
                last = read.isAfter(last) ? read : last;
            }
        }
        return last;
    }

    private Picture temperature() {
        Plot plot = new Plot(range(), LEFT, width - RIGHT, TOP, PLOT);
        Picture.Maker maker = new Picture.Maker();
        maker.words(
                2,
                16,
                "Air and eggs of " + outage.key().cabinet() + ", " + wording.unit().symbol(),
                Style.SLICE,
                Anchor.START);
        key(maker);
        dark(maker, TOP, PLOT);
        account.review().coldest().ifPresent(coldest -> band(maker, plot, coldest));
        maker.add(plot.frame());
        plot.ticks(maker);
        limits(maker, plot);
        air(maker, plot);
        account.review()
                .coldest()
                .filter(EggBand::isLikelyKnown)
                .ifPresent(eggs -> eggs(maker, plot, eggs, "coldest eggs", 14, Anchor.END));
        account.review()
                .warmest()
                .filter(EggBand::isLikelyKnown)
                .ifPresent(eggs -> eggs(maker, plot, eggs, "warmest eggs", -6, Anchor.START));
        edge(maker, outage.begin(), "readings end ", Anchor.END);
        edge(maker, outage.end(), "readings begin ", Anchor.START);
        inGap(maker);
        int y = TOP + PLOT;
        y = strip(maker, y, "alarms", moments(account.changes(), change -> change.at()));
        y = strip(maker, y, "notices", moments(account.notices(), notice -> notice.at()));
        axis.draw(maker, y);
        return maker.make(
                width,
                y + AXIS,
                "air and eggs of " + outage.key().cabinet() + " before, in and after an outage");
    }

    private double shown(double celsius) {
        return wording.unit().fromCelsius(celsius);
    }

    /** Least and greatest of all that is drawn, with room to spare. */
    private double[] range() {
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        for (double value : meanAir().values()) {
            if (Double.isFinite(value)) {
                least = Math.min(least, value);
                most = Math.max(most, value);
            }
        }
        if (account.review().coldest().isPresent()) {
            least = Math.min(least, account.review().coldest().get().leastCelsius().low());
        }
        if (account.review().warmest().isPresent()) {
            most = Math.max(most, account.review().warmest().get().greatestCelsius().high());
        }
        if (account.limits().isPresent()) {
            least = Math.min(least, account.limits().get().tooCold().celsius());
            most = Math.max(most, account.limits().get().tooWarm().celsius());
        }
        if (!(least <= most)) {
            return new double[] {shown(0), shown(40)};
        }
        return new double[] {shown(least - 0.6), shown(most + 0.6)};
    }

    private void key(Picture.Maker maker) {
        double x = LEFT;
        maker.add(new Picture.Line(List.of(x, x + 34), List.of(32.0, 32.0), BLUE, 2, false));
        maker.words(x + 42, 36, "air, measured", Style.SLICE, Anchor.START);
        x += 170;
        maker.add(new Picture.Area(corners(x, x + 34), List.of(26.0, 26.0, 38.0, 38.0), BAND));
        maker.add(new Picture.Line(List.of(x, x + 34), List.of(32.0, 32.0), Picture.INK, 2, true));
        maker.words(
                x + 42,
                36,
                "eggs with their 95 % band: " + (outage.isGap() ? "reconstructed" : "estimated"),
                Style.SLICE,
                Anchor.START);
    }

    private static List<Double> corners(double from, double to) {
        return List.of(from, to, to, from);
    }

    private void dark(Picture.Maker maker, double y, double height) {
        double from = axis.x(outage.begin().likely());
        double to = axis.x(outage.end().likely());
        maker.add(new Picture.Area(corners(from, to), List.of(y, y, y + height, y + height), DARK));
    }

    /** From the coldest eggs' cold edge to the warmest ones' warm edge. */
    private void band(Picture.Maker maker, Plot plot, EggBand coldest) {
        EggBand warmest = account.review().warmest().orElse(coldest);
        List<Double> xs = new ArrayList<>();
        List<Double> ys = new ArrayList<>();
        int every = Math.max(1, coldest.size() / width);
        for (int i = 0; i < coldest.size(); i += every) {
            xs.add(axis.x(coldest.epochMillis(i)));
            ys.add(plot.y(shown(coldest.celsius(i).low())));
        }
        for (int i = (warmest.size() - 1) / every * every; i >= 0; i -= every) {
            xs.add(axis.x(warmest.epochMillis(i)));
            ys.add(plot.y(shown(warmest.celsius(i).high())));
        }
        maker.add(new Picture.Area(xs, ys, BAND));
    }

    private void eggs(
            Picture.Maker maker,
            Plot plot,
            EggBand eggs,
            String words,
            double beside,
            Anchor anchor) {
        List<Double> xs = new ArrayList<>();
        List<Double> ys = new ArrayList<>();
        int every = Math.max(1, eggs.size() / width);
        for (int i = 0; i < eggs.size(); i += every) {
            Span span = eggs.celsius(i);
            xs.add(axis.x(eggs.epochMillis(i)));
            ys.add(plot.y(shown(span.likely())));
        }
        maker.add(new Picture.Line(xs, ys, Picture.INK, 2, true));
        // In the middle of it, where the two lines are apart and no other line is.
        long middle =
                (outage.begin().likely().toEpochMilli() + outage.end().likely().toEpochMilli()) / 2;
        for (int i = 0; i < eggs.size(); i++) {
            if (eggs.epochMillis(i) >= middle) {
                maker.words(
                        axis.x(eggs.epochMillis(i)),
                        plot.y(shown(eggs.celsius(i).likely())) + beside,
                        words,
                        Style.PLACE,
                        anchor);
                return;
            }
        }
    }

    private void limits(Picture.Maker maker, Plot plot) {
        if (account.limits().isPresent()) {
            Limits limits = account.limits().get();
            limit(maker, plot, limits.tooCold().celsius(), "too cold below", true);
            limit(maker, plot, limits.tooWarm().celsius(), "too warm above", false);
            limit(maker, plot, limits.cutOff().celsius(), "heat is cut off at", false);
            limit(maker, plot, limits.ceiling().celsius(), "ceiling", false);
        }
        limit(maker, plot, account.eggsColdLimitCelsius(), "cold limit for eggs", true);
    }

    private void limit(
            Picture.Maker maker, Plot plot, double celsius, String words, boolean isBelow) {
        double value = shown(celsius);
        if (plot.holds(value)) {
            List<Double> xs = List.of((double) LEFT, (double) width - RIGHT);
            maker.add(new Picture.Line(xs, List.of(plot.y(value), plot.y(value)), GREY, 1, false));
            maker.words(
                    LEFT + 4,
                    plot.y(value) + (isBelow ? 13 : -4),
                    words + " " + TimeAxis.tenths(value),
                    Style.PLACE,
                    Anchor.START);
        }
    }

    /** Mean of the air by minute; NaN right after a time that ends. */
    private Map<Long, Double> meanAir() {
        return means(
                probe -> probe.unit() == ProbeCurve.Unit.CELSIUS && probe.place().kind().isAir());
    }

    private interface Choice {
        boolean takes(ProbeCurve probe);
    }

    private Map<Long, Double> means(Choice choice) {
        long step = Math.max(60_000, axis.millis() / (2L * width));
        TreeMap<Long, double[]> sums = new TreeMap<>();
        for (ProbeCurve probe : account.measured().probes()) {
            for (int i = 0; choice.takes(probe) && i < probe.curve().size(); i++) {
                if (Double.isFinite(probe.curve().mean(i))) {
                    double[] sum =
                            sums.computeIfAbsent(
                                    Math.floorDiv(probe.curve().epochMillis(i), step) * step,
                                    any -> new double[2]);
                    sum[0] += probe.curve().mean(i);
                    sum[1]++;
                }
            }
        }
        TreeMap<Long, Double> means = new TreeMap<>();
        long before = Long.MIN_VALUE / 2;
        for (Long at : sums.keySet()) {
            if (at - before > 5 * step && !means.isEmpty()) {
                means.put(before + 1, Double.NaN);
            }
            double[] sum = sums.getOrDefault(at, new double[2]);
            means.put(at, sum[0] / sum[1]);
            before = at;
        }
        return means;
    }

    private void air(Picture.Maker maker, Plot plot) {
        draw(maker, plot, meanAir(), this::shown);
    }

    private void draw(
            Picture.Maker maker,
            Plot plot,
            Map<Long, Double> values,
            ToDoubleFunction<Double> shown) {
        List<Double> xs = new ArrayList<>();
        List<Double> ys = new ArrayList<>();
        values.forEach(
                (at, value) -> {
                    if (Double.isNaN(value)) {
                        maker.add(new Picture.Line(xs, ys, BLUE, 2, false));
                        xs.clear();
                        ys.clear();
                    } else if (axis.holds(at)) {
                        xs.add(axis.x(at));
                        ys.add(plot.y(shown.applyAsDouble(value)));
                    }
                });
        maker.add(new Picture.Line(xs, ys, BLUE, 2, false));
    }

    /** A line at its likely time, and a bar from its earliest to its latest. */
    private void edge(Picture.Maker maker, Edge edge, String words, Anchor anchor) {
        double x = axis.x(edge.likely());
        maker.line(x, TOP - 6, x, TOP + PLOT, 1.5, false);
        double from = axis.x(edge.earliest());
        double to = axis.x(edge.latest());
        if (to - from > 2) {
            maker.box(from, TOP - 6, to - from, 5, Picture.INK, 0);
        }
        Duration before = Duration.between(edge.earliest(), edge.likely());
        Duration after = Duration.between(edge.likely(), edge.latest());
        boolean isBothSame = before.equals(after);
        String known =
                before.plus(after).isZero()
                        ? ""
                        : isBothSame
                                ? " ± " + axis.length(before)
                                : " (-" + axis.length(before) + " +" + axis.length(after) + ")";
        maker.words(
                anchor == Anchor.END ? Math.max(LEFT + 160, x - 4) : Math.min(width - 190, x + 4),
                TOP - 9,
                words + axis.clock(edge.likely()) + known,
                Style.PLACE,
                anchor);
    }

    /** What stands in the gap itself. */
    private void inGap(Picture.Maker maker) {
        double from = axis.x(outage.begin().likely());
        double to = axis.x(outage.end().likely());
        if (to - from < 90) {
            return;
        }
        maker.words(
                (from + to) / 2,
                TOP + 16,
                outage.isGap() ? "no readings" : outage.words(),
                Style.SLICE,
                Anchor.MIDDLE);
        maker.words(
                (from + to) / 2,
                TOP + 32,
                account.review()
                        .coldest()
                        .map(
                                band ->
                                        !outage.isGap()
                                                ? "eggs: estimated"
                                                : band.isLikelyKnown()
                                                        ? "eggs: reconstructed"
                                                        : "reconstructed: between these ends")
                        .orElse("eggs: not known"),
                Style.SLICE,
                Anchor.MIDDLE);
    }

    private static <T> List<Instant> moments(List<T> of, Function<T, Instant> time) {
        return of.stream().map(time).toList();
    }

    /** A strip with a stroke for each moment; none where there are none. */
    private int strip(Picture.Maker maker, int y, String name, List<Instant> moments) {
        if (moments.isEmpty()) {
            return y;
        }
        maker.words(LEFT - 6, y + 15, name, Style.PLACE, Anchor.END);
        for (Instant moment : moments) {
            if (axis.holds(moment.toEpochMilli())) {
                double x = axis.x(moment);
                maker.line(x, y + 4, x, y + STRIPS - 4, 2, false);
            }
        }
        maker.line(LEFT, y + STRIPS, width - RIGHT, y + STRIPS, 0.5, false);
        return y + STRIPS;
    }

    private Optional<Picture> humidity() {
        Map<Long, Double> means =
                means(
                        probe ->
                                probe.unit() == ProbeCurve.Unit.PERCENT_RELATIVE_HUMIDITY
                                        && probe.place().kind() != ProbePlace.Kind.AMBIENT);
        if (means.isEmpty()) {
            return Optional.empty();
        }
        double least = 100;
        double most = 0;
        for (double value : means.values()) {
            if (Double.isFinite(value)) {
                least = Math.min(least, value);
                most = Math.max(most, value);
            }
        }
        int top = 28;
        Plot plot =
                new Plot(new double[] {least - 2, most + 2}, LEFT, width - RIGHT, top, LOW_PLOT);
        Picture.Maker maker = new Picture.Maker();
        maker.words(2, 16, "Relative humidity, measured, %", Style.SLICE, Anchor.START);
        dark(maker, top, LOW_PLOT);
        maker.add(plot.frame());
        plot.ticks(maker);
        draw(maker, plot, means, Double::doubleValue);
        if (outage.isGap()) {
            double middle = (axis.x(outage.begin().likely()) + axis.x(outage.end().likely())) / 2;
            maker.words(middle, top + 16, "not known", Style.SLICE, Anchor.MIDDLE);
        }
        axis.draw(maker, top + LOW_PLOT);
        return Optional.of(
                maker.make(width, top + LOW_PLOT + AXIS, "humidity before and after an outage"));
    }
}
