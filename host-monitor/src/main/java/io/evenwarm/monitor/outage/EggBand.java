package io.evenwarm.monitor.outage;

import io.evenwarm.monitor.thermal.EggCurve;
import io.evenwarm.monitor.thermal.EggTrack;
import io.evenwarm.monitor.thermal.Span;
import java.time.Instant;
import java.util.Arrays;
import java.util.Optional;
import java.util.function.IntToDoubleFunction;

/**
 * Eggs of one place over time, with the band in which they were. None of it was measured.
 * Immutable.
 */
public final class EggBand {

    private static final double MILLIS_PER_HOUR = 3_600_000;
    private static final double NOT_KNOWN_KELVIN = 3;

    private final long beginMillis;
    private final long stepMillis;
    private final double[] low;
    private final double[] likely;
    private final double[] high;
    private final boolean isLikelyKnown;

    private EggBand(
            long beginMillis,
            long stepMillis,
            double[] low,
            double[] likely,
            double[] high,
            boolean isLikelyKnown) {
        this.beginMillis = beginMillis;
        this.stepMillis = stepMillis;
        this.low = low;
        this.likely = likely;
        this.high = high;
        this.isLikelyKnown = isLikelyKnown;
    }

    private static EggBand of(
            EggCurve curve,
            IntToDoubleFunction low,
            IntToDoubleFunction high,
            boolean isLikelyKnown) {
        int size = curve.size();
        double[] lows = new double[size];
        double[] likelies = new double[size];
        double[] highs = new double[size];
        for (int i = 0; i < size; i++) {
            likelies[i] = curve.celsius(i);
            lows[i] = Math.min(likelies[i], low.applyAsDouble(i));
            highs[i] = Math.max(likelies[i], high.applyAsDouble(i));
        }
        return new EggBand(
                size == 0 ? 0 : curve.epochMillis(0),
                curve.stepMillis(),
                lows,
                likelies,
                highs,
                isLikelyKnown);
    }

    /** Eggs whose most likely curve is known. */
    static EggBand of(EggCurve curve) {
        return of(
                curve,
                i -> curve.celsius(i) - curve.plusMinus(i),
                i -> curve.celsius(i) + curve.plusMinus(i),
                true);
    }

    /**
     * Eggs that may also have been as cold as another curve.
     *
     * @param lowest begins with {@code curve} and is as long
     * @param mayBeHeated whether they may have been as warm as at the begin too
     */
    static EggBand of(EggCurve curve, EggCurve lowest, boolean mayBeHeated) {
        return band(curve, lowest, mayBeHeated, true);
    }

    /**
     * Eggs of which only that is known: not colder than without heat, not warmer than at the begin.
     *
     * @param withoutHeat their curve without heat
     */
    static EggBand open(EggCurve withoutHeat) {
        return band(withoutHeat, withoutHeat, true, false);
    }

    /**
     * Eggs as they were estimated while the air was read.
     *
     * @param aboveKelvin by how much they are above the mean of all, K; never beyond the band
     * @return empty where nothing is known of that time; where something is not known in between,
     *     the last that was, and {@value #NOT_KNOWN_KELVIN} K more to each side
     */
    static Optional<EggBand> of(EggTrack track, double aboveKelvin, Instant from, Instant to) {
        int first = 0;
        while (first < track.size() && track.epochMillis(first) < from.toEpochMilli()) {
            first++;
        }
        while (first < track.size() && !track.isKnown(first)) {
            first++;
        }
        int last = first;
        while (last < track.size() && track.epochMillis(last) < to.toEpochMilli()) {
            last++;
        }
        if (last <= first) {
            return Optional.empty();
        }
        double[] low = new double[last - first];
        double[] likely = new double[last - first];
        double[] high = new double[last - first];
        Span known = track.celsius(first);
        for (int i = 0; i < low.length; i++) {
            boolean isKnown = track.isKnown(first + i);
            known = isKnown ? track.celsius(first + i) : known;
            double more = isKnown ? 0 : NOT_KNOWN_KELVIN;
            low[i] = known.low() - more;
            high[i] = known.high() + more;
            likely[i] = Math.max(low[i], Math.min(high[i], known.likely() + aboveKelvin));
        }
        long step =
                last - first < 2
                        ? 300_000
                        : track.epochMillis(first + 1) - track.epochMillis(first);
        return Optional.of(new EggBand(track.epochMillis(first), step, low, likely, high, true));
    }

    private static EggBand band(
            EggCurve curve, EggCurve lowest, boolean mayBeHeated, boolean isLikelyKnown) {
        double atBegin =
                mayBeHeated && curve.size() > 0
                        ? curve.celsius(0) + curve.plusMinus(0)
                        : Double.NEGATIVE_INFINITY;
        return of(
                curve,
                i ->
                        Math.min(
                                curve.celsius(i) - curve.plusMinus(i),
                                lowest.celsius(i) - lowest.plusMinus(i)),
                i -> Math.max(curve.celsius(i) + curve.plusMinus(i), atBegin),
                isLikelyKnown);
    }

    /**
     * Eggs of which only that is known: between these, and most likely as {@code this}.
     *
     * @param colder as long
     * @param warmer as long
     */
    EggBand widenedTo(EggBand colder, EggBand warmer) {
        double[] lows = low.clone();
        double[] highs = high.clone();
        for (int i = 0; i < size(); i++) {
            lows[i] = Math.min(lows[i], colder.low[i]);
            highs[i] = Math.max(highs[i], warmer.high[i]);
        }
        return new EggBand(beginMillis, stepMillis, lows, likely, highs, isLikelyKnown);
    }

    /** What of it lies in a time, its end excluded. */
    public EggBand between(Instant from, Instant to) {
        int first = index(from);
        int last = Math.max(first, index(to));
        return new EggBand(
                epochMillis(first),
                stepMillis,
                Arrays.copyOfRange(low, first, last),
                Arrays.copyOfRange(likely, first, last),
                Arrays.copyOfRange(high, first, last),
                isLikelyKnown);
    }

    /** Of the first point that is not before a time. */
    private int index(Instant time) {
        int index = 0;
        while (index < size() && Instant.ofEpochMilli(epochMillis(index)).isBefore(time)) {
            index++;
        }
        return index;
    }

    /**
     * Whether there is a most likely curve; where not, what stands for it is the one without heat.
     */
    public boolean isLikelyKnown() {
        return isLikelyKnown;
    }

    public int size() {
        return likely.length;
    }

    /** Milliseconds since the epoch. */
    public long epochMillis(int index) {
        return beginMillis + index * stepMillis;
    }

    /** Time that each point stands for, ms. */
    public long stepMillis() {
        return stepMillis;
    }

    /** Most likely value, see {@link #isLikelyKnown}, and 95 % band, °C. */
    public Span celsius(int index) {
        return new Span(low[index], likely[index], high[index]);
    }

    /** Index of the most likely coldest point. */
    public int coldest() {
        int coldest = 0;
        for (int i = 1; i < size(); i++) {
            coldest = likely[i] < likely[coldest] ? i : coldest;
        }
        return coldest;
    }

    /** Least value, °C: of the most likely curve, and of the band's two edges. */
    public Span leastCelsius() {
        return over(Double.POSITIVE_INFINITY, Math::min);
    }

    /** Greatest value, °C. */
    public Span greatestCelsius() {
        return over(Double.NEGATIVE_INFINITY, Math::max);
    }

    /** Time below a limit, h; the low end is of the band's warm edge. */
    public Span hoursBelow(double limit) {
        return turned(over(0, (sum, value) -> sum + (value < limit ? stepHours() : 0)));
    }

    /** Area below a limit, K·h. */
    public Span degreeHoursBelow(double limit) {
        return turned(over(0, (sum, value) -> sum + Math.max(0, limit - value) * stepHours()));
    }

    /** Time above a limit, h. */
    public Span hoursAbove(double limit) {
        return over(0, (sum, value) -> sum + (value > limit ? stepHours() : 0));
    }

    /** Area above a limit, K·h. */
    public Span degreeHoursAbove(double limit) {
        return over(0, (sum, value) -> sum + Math.max(0, value - limit) * stepHours());
    }

    private double stepHours() {
        return stepMillis / MILLIS_PER_HOUR;
    }

    private interface Fold {
        double with(double sum, double value);
    }

    private Span over(double first, Fold fold) {
        return sorted(over(low, first, fold), over(likely, first, fold), over(high, first, fold));
    }

    private static double over(double[] values, double first, Fold fold) {
        double sum = first;
        for (double value : values) {
            sum = fold.with(sum, value);
        }
        return sum;
    }

    private static Span turned(Span span) {
        return sorted(span.high(), span.likely(), span.low());
    }

    private static Span sorted(double one, double likely, double other) {
        return new Span(Math.min(one, other), likely, Math.max(one, other));
    }
}
