package io.evenwarm.monitor.outage;

import io.evenwarm.monitor.thermal.EggCurve;
import io.evenwarm.monitor.thermal.Span;

/**
 * Reconstructed eggs of one shelf, minute by minute, with the band in which they were. None of it
 * was measured. Immutable.
 */
public final class EggBand {

    private static final double MINUTES_PER_HOUR = 60;

    private final EggCurve curve;
    private final EggCurve lowest;
    private final boolean isOpen;
    private final boolean isLikelyKnown;

    private EggBand(EggCurve curve, EggCurve lowest, boolean isOpen, boolean isLikelyKnown) {
        this.curve = curve;
        this.lowest = lowest;
        this.isOpen = isOpen;
        this.isLikelyKnown = isLikelyKnown;
    }

    /** Eggs whose most likely curve is known. */
    static EggBand of(EggCurve curve) {
        return new EggBand(curve, curve, false, true);
    }

    /**
     * Eggs that may also have been as cold as another curve.
     *
     * @param lowest begins with {@code curve} and is as long
     * @param mayBeHeated whether they may have been as warm as at the begin too
     */
    static EggBand of(EggCurve curve, EggCurve lowest, boolean mayBeHeated) {
        return new EggBand(curve, lowest, mayBeHeated, true);
    }

    /**
     * Eggs of which only that is known: not colder than without heat, not warmer than at the begin.
     *
     * @param withoutHeat their curve without heat
     */
    static EggBand open(EggCurve withoutHeat) {
        return new EggBand(withoutHeat, withoutHeat, true, false);
    }

    /**
     * Whether there is a most likely curve; where not, what stands for it is the one without heat.
     */
    public boolean isLikelyKnown() {
        return isLikelyKnown;
    }

    public int size() {
        return curve.size();
    }

    /** Milliseconds since the epoch. */
    public long epochMillis(int index) {
        return curve.epochMillis(index);
    }

    /** Most likely value, see {@link #isLikelyKnown}, and 95 % band, °C. */
    public Span celsius(int index) {
        double likely = curve.celsius(index);
        double high = likely + curve.plusMinus(index);
        if (isOpen) {
            high = Math.max(high, curve.celsius(0) + curve.plusMinus(0));
        }
        double low =
                Math.min(
                        likely - curve.plusMinus(index),
                        lowest.celsius(index) - lowest.plusMinus(index));
        return new Span(low, likely, high);
    }

    /** Index of the most likely coldest minute. */
    public int coldest() {
        return curve.coldest();
    }

    /** Least value, °C: of the most likely curve, and of the band's two edges. */
    public Span leastCelsius() {
        return over(Double.POSITIVE_INFINITY, (least, value) -> Math.min(least, value));
    }

    /** Greatest value, °C. */
    public Span greatestCelsius() {
        return over(Double.NEGATIVE_INFINITY, (most, value) -> Math.max(most, value));
    }

    /** Time below a limit, h; the low end is of the band's warm edge. */
    public Span hoursBelow(double limit) {
        return turned(over(0, (sum, value) -> sum + (value < limit ? 1 : 0) / MINUTES_PER_HOUR));
    }

    /** Area below a limit, K·h. */
    public Span degreeHoursBelow(double limit) {
        return turned(over(0, (sum, value) -> sum + Math.max(0, limit - value) / MINUTES_PER_HOUR));
    }

    /** Time above a limit, h. */
    public Span hoursAbove(double limit) {
        return over(0, (sum, value) -> sum + (value > limit ? 1 : 0) / MINUTES_PER_HOUR);
    }

    /** Area above a limit, K·h. */
    public Span degreeHoursAbove(double limit) {
        return over(0, (sum, value) -> sum + Math.max(0, value - limit) / MINUTES_PER_HOUR);
    }

    private interface Fold {
        double with(double sum, double value);
    }

    private Span over(double first, Fold fold) {
        double low = first;
        double likely = first;
        double high = first;
        for (int i = 0; i < size(); i++) {
            Span span = celsius(i);
            low = fold.with(low, span.low());
            likely = fold.with(likely, span.likely());
            high = fold.with(high, span.high());
        }
        return size() == 0 ? new Span(first, first, first) : sorted(low, likely, high);
    }

    private static Span turned(Span span) {
        return sorted(span.high(), span.likely(), span.low());
    }

    private static Span sorted(double one, double likely, double other) {
        return new Span(Math.min(one, other), likely, Math.max(one, other));
    }
}
