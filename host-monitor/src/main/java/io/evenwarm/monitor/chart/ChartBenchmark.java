package io.evenwarm.monitor.chart;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.message.Limits;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.ProbeCurve.Unit;
import io.evenwarm.monitor.history.TimeSpan;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import java.awt.Graphics2D;
import java.awt.geom.Rectangle2D;
import java.awt.image.BufferedImage;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.SplittableRandom;
import org.jfree.chart.JFreeChart;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.SamplingXYLineRenderer;
import org.jfree.chart.renderer.xy.XYItemRenderer;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jfree.data.xy.DefaultXYDataset;

/**
 * Times the drawing of a day of three probes at one reading a second, beside the bare plot library
 * on the same points.
 *
 * <p>The bare charts get one dataset ready made and draw axes and lines at their defaults; ours
 * thins, draws four panels' worth of lettering, limits and heater as well.
 */
public final class ChartBenchmark {

    static final int WIDTH = 1200;
    static final int HEIGHT = 600;
    private static final int PROBES = 3;
    private static final int SECONDS = 86_400;
    private static final int WARM_UPS = 40;
    private static final int RUNS = 61;
    private static final int BARE_LINE_WARM_UPS = 5;
    private static final int BARE_LINE_RUNS = 11;
    private static final long SEED = 20_020_801;
    private static final Instant BEGIN = Instant.parse("2026-03-01T00:00:00Z");

    private ChartBenchmark() {}

    /**
     * Medians, in milliseconds.
     *
     * @param points how many were drawn each time
     * @param ours this program's chart, from stored points to the final pixels
     * @param bareSampling JFreeChart with its SamplingXYLineRenderer
     * @param bareLine JFreeChart with its plain line renderer
     */
    public record Result(int points, double ours, double bareSampling, double bareLine) {

        /** For a person, in a few lines. */
        public List<String> lines() {
            return List.of(
                    String.format(
                            Locale.ROOT,
                            "chart of %,d points (%d probes, 24 h at 1 s) at %dx%d, median of %d:",
                            points,
                            PROBES,
                            WIDTH,
                            HEIGHT,
                            RUNS),
                    String.format(Locale.ROOT, "  evenwarm chart             %7.2f ms", ours),
                    String.format(
                            Locale.ROOT,
                            "  bare, sampling renderer    %7.2f ms, evenwarm takes %.2f of it",
                            bareSampling,
                            ours / bareSampling),
                    String.format(
                            Locale.ROOT,
                            "  bare, plain line renderer  %7.2f ms, evenwarm takes %.2f of it",
                            bareLine,
                            ours / bareLine));
        }
    }

    /** Takes some seconds on the calling thread. */
    public static Result run(MonotonicClock clock) {
        List<Curve> curves = day();
        ChartSpec spec = spec(curves);
        ChartPainter painter = new ChartPainter();
        double ours = median(clock, WARM_UPS, RUNS, () -> painter.paint(spec).pixels());
        DefaultXYDataset data = dataset(curves);
        double sampling =
                median(clock, WARM_UPS, RUNS, () -> bare(data, new SamplingXYLineRenderer()));
        double line =
                median(
                        clock,
                        BARE_LINE_WARM_UPS,
                        BARE_LINE_RUNS,
                        () -> bare(data, new XYLineAndShapeRenderer(true, false)));
        return new Result(PROBES * SECONDS, ours, sampling, line);
    }

    /** What a held cabinet looks like: slow swings, noise, and the DS18B20's steps of 1/16 °C. */
    static List<Curve> day() {
        SplittableRandom random = new SplittableRandom(SEED);
        List<Curve> curves = new ArrayList<>();
        for (int probe = 0; probe < PROBES; probe++) {
            long[] times = new long[SECONDS];
            double[] values = new double[SECONDS];
            double drift = 0;
            for (int i = 0; i < SECONDS; i++) {
                drift = 0.9995 * drift + 0.004 * (random.nextDouble() - 0.5);
                double swing = 0.12 * Math.sin(i / 140.0 + probe);
                double noise = 0.06 * (random.nextDouble() - 0.5);
                double value = 31.5 + 0.15 * (1 - probe) + swing + drift + noise;
                times[i] = BEGIN.toEpochMilli() + 1000L * i;
                values[i] = Math.rint(value * 16) / 16;
            }
            curves.add(Curve.of(times, values, SECONDS));
        }
        return curves;
    }

    private static ChartSpec spec(List<Curve> curves) {
        ProbePlace[] places = {ProbePlace.TOP, ProbePlace.MIDDLE, ProbePlace.BOTTOM};
        List<ProbeTrace> probes = new ArrayList<>();
        for (int i = 0; i < PROBES; i++) {
            probes.add(
                    new ProbeTrace(
                            places[i].label(), places[i], Unit.CELSIUS, Trace.of(curves.get(i))));
        }
        long[] times = new long[SECONDS];
        double[] setPoints = new double[SECONDS];
        double[] heater = new double[SECONDS];
        for (int i = 0; i < SECONDS; i++) {
            times[i] = BEGIN.toEpochMilli() + 1000L * i;
            setPoints[i] = 31.5;
            heater[i] = i % 120 < 44 ? 1 : 0;
        }
        return new ChartSpec(
                new ChartSpec.Frame(
                        WIDTH, HEIGHT, 1, "SansSerif", TemperatureUnit.CELSIUS, ZoneOffset.UTC),
                new TimeSpan(BEGIN, BEGIN.plus(Duration.ofDays(1))),
                probes,
                Trace.of(Curve.of(times, setPoints, SECONDS)),
                Trace.of(Curve.of(times, heater, SECONDS)),
                Optional.of(
                        new Limits(
                                Temperature.ofCelsius(30.5),
                                Temperature.ofCelsius(32.5),
                                Temperature.ofCelsius(33.5),
                                Temperature.ofCelsius(34.5))),
                false,
                true,
                Optional.empty(),
                true);
    }

    private static DefaultXYDataset dataset(List<Curve> curves) {
        DefaultXYDataset data = new DefaultXYDataset();
        for (int probe = 0; probe < curves.size(); probe++) {
            Curve curve = curves.get(probe);
            double[][] points = new double[2][curve.size()];
            for (int i = 0; i < curve.size(); i++) {
                points[0][i] = (double) curve.epochMillis(i);
                points[1][i] = curve.value(i);
            }
            data.addSeries(Integer.valueOf(probe), points);
        }
        return data;
    }

    private static BufferedImage bare(DefaultXYDataset data, XYItemRenderer renderer) {
        NumberAxis values = new NumberAxis();
        values.setAutoRangeIncludesZero(false);
        NumberAxis times = new NumberAxis();
        times.setAutoRangeIncludesZero(false);
        JFreeChart chart = new JFreeChart(new XYPlot(data, times, values, renderer));
        BufferedImage image = new BufferedImage(WIDTH, HEIGHT, BufferedImage.TYPE_INT_ARGB_PRE);
        Graphics2D graphics = image.createGraphics();
        try {
            chart.draw(graphics, new Rectangle2D.Double(0, 0, WIDTH, HEIGHT));
        } finally {
            graphics.dispose();
        }
        return image;
    }

    private static double median(MonotonicClock clock, int warmUps, int runs, Runnable drawing) {
        for (int i = 0; i < warmUps; i++) {
            drawing.run();
        }
        double[] millis = new double[runs];
        for (int i = 0; i < runs; i++) {
            long begin = clock.nanos();
            drawing.run();
            millis[i] = (clock.nanos() - begin) / 1e6;
        }
        Arrays.sort(millis);
        return millis[runs / 2];
    }
}
