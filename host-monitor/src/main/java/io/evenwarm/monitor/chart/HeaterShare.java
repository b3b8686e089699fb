package io.evenwarm.monitor.chart;

import java.time.Duration;

/**
 * The heater's strip: how much of each pixel column's time it was on, and the mean over a longer
 * stretch, since a relay that is on or off says little about how much heat is given.
 *
 * @param bars begin of each column, and the share of its time in percent; the mean where columns
 *     are too long to show the relay's switching
 * @param mean a time, and the share of the stretch that ends there in percent
 */
record HeaterShare(Points bars, Points mean) {

    /** Several windows of the relay; longer when the picture spans much more. */
    private static final Duration MEAN_OVER_MIN = Duration.ofMinutes(10);

    private static final int MEANS_PER_PICTURE_MAX = 120;

    /** With longer columns the relay's switching and the columns would only beat. */
    private static final double SWITCHING_SEEN_MILLIS_MAX = 12_000;

    static HeaterShare of(ChartSpec spec) {
        long from = spec.span().from().toEpochMilli();
        long to = Math.max(from + 1, spec.span().to().toEpochMilli());
        int columns = Math.max(1, spec.frame().width() - Look.LEFT - Look.RIGHT);
        double column = (to - from) / (double) columns;
        double window = Math.max(MEAN_OVER_MIN.toMillis(), (to - from) / MEANS_PER_PICTURE_MAX);
        ShareIntegral integral = new ShareIntegral(spec.heater(), from - (long) window, to);
        double[] begins = new double[columns];
        double[] ends = new double[columns];
        double[] bars = new double[columns];
        double[] mean = new double[columns];
        for (int i = 0; i < columns; i++) {
            double begin = from + i * column;
            double end = begin + column;
            begins[i] = begin;
            ends[i] = end;
            bars[i] = 100 * integral.between(begin, end);
            mean[i] =
                    Double.isNaN(bars[i]) ? Double.NaN : 100 * integral.between(end - window, end);
            if (column > SWITCHING_SEEN_MILLIS_MAX) {
                bars[i] = mean[i];
            }
        }
        return new HeaterShare(new Points(begins, bars, columns), new Points(ends, mean, columns));
    }
}
