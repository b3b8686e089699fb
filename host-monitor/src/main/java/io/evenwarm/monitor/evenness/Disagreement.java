package io.evenwarm.monitor.evenness;

import java.util.OptionalLong;

/**
 * Whether two probes disagree: their difference leaves the one that is usual between their places
 * by more than both their uncertainties allow, on the same side, and for long enough.
 *
 * <p>Both qualities at their word, each difference of single readings has {@code u² = u₁² + u₂²}
 * and counts from 2 u on (GUM, 6.3.3: about 95 %). Readings in which one of the two is missing say
 * nothing; after a hole longer than the time asked for, the time begins anew.
 *
 * <p>One thread, readings oldest first.
 */
public final class Disagreement {

    private static final double COVERAGE = 2;

    private final double usual;
    private final double allowed;
    private final long lastingMillis;

    private long since;
    private long last = Long.MIN_VALUE;
    private int side;

    /**
     * @param usual difference first − second between their places, in the unit of the readings: 0
     *     for probes side by side, else what this cabinet's own record shows
     * @param lastingMillis for how long, above 0
     */
    public Disagreement(ProbeQuality first, ProbeQuality second, double usual, long lastingMillis) {
        if (!Double.isFinite(usual) || lastingMillis <= 0) {
            throw new IllegalArgumentException(
                    "no rule of disagreement: " + usual + ", " + lastingMillis + " ms");
        }
        this.usual = usual;
        this.allowed =
                COVERAGE * Math.hypot(first.standardUncertainty(0), second.standardUncertainty(0));
        this.lastingMillis = lastingMillis;
    }

    /** How far the difference may be from the usual one. */
    public double allowed() {
        return allowed;
    }

    /**
     * Takes the next readings, both corrected by their offsets.
     *
     * @param first NaN where it is bad
     * @param second NaN where it is bad
     * @return since when they disagree; empty while they don't, or not for long enough
     */
    public OptionalLong add(long epochMillis, double first, double second) {
        double more = first - second - usual;
        if (Double.isNaN(more)) {
            return isLasting(last) ? OptionalLong.of(since) : OptionalLong.empty();
        }
        int now = more > allowed ? 1 : more < -allowed ? -1 : 0;
        boolean isHole = last != Long.MIN_VALUE && epochMillis - last > lastingMillis;
        if (now != side || isHole) {
            side = now;
            since = epochMillis;
        }
        last = epochMillis;
        return isLasting(epochMillis) ? OptionalLong.of(since) : OptionalLong.empty();
    }

    private boolean isLasting(long now) {
        return side != 0 && now - since >= lastingMillis;
    }
}
