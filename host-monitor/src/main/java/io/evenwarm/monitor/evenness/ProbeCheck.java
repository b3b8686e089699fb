package io.evenwarm.monitor.evenness;

import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.apache.commons.math3.stat.descriptive.moment.StandardDeviation;

/**
 * Compares probes that are all in one place: side by side with a reference, or in ice water.
 *
 * <p>The last {@value #SETTLED_MINUTES} minutes count, once every probe has kept within ±{@value
 * #STEADY_KELVIN} K of its mean for so long. An offset is reference − probe; its standard
 * uncertainty is the root of the sum of squares (GUM, 5.1.2) of what the readings leave ({@link
 * SlowPart} of the difference, in which what moves both alike drops out), of both smallest steps,
 * of the reference's own, and of how unlike the places of two probes in one bath can be.
 */
public final class ProbeCheck {

    /** For so long every probe must have been steady. */
    public static final int SETTLED_MINUTES = 20;

    static final double STEADY_KELVIN = 0.15;

    /** The ice point of air-saturated water at 101.325 kPa (ITS-90 by definition, to 0.003 K). */
    private static final double ICE_CELSIUS = 0;

    private static final double MISSING_SHARE_MAX = 0.05;

    /**
     * What the probes are in.
     *
     * @param unlikeKelvin half width of how far two places in it can differ, K, 0 or more
     */
    public record Bath(double unlikeKelvin) {

        /** Stirred water or slush. Common practice, no source. */
        public static final Bath STIRRED_WATER = new Bath(0.02);

        /** A bundle of probes in moved air, in a tin. Common practice, no source. */
        public static final Bath BUNDLE_IN_AIR = new Bath(0.05);

        public Bath {
            if (!(unlikeKelvin >= 0 && unlikeKelvin <= 5)) {
                throw new IllegalArgumentException(
                        "places can differ by 0 to 5 K but were said to by " + unlikeKelvin);
            }
        }
    }

    private final TimeSpan span;
    private final List<SurveyPoint> probes;
    private final Bath bath;

    private ProbeCheck(TimeSpan span, List<SurveyPoint> probes, Bath bath) {
        this.span = span;
        this.probes = probes;
        this.bath = bath;
    }

    /**
     * Side by side with a reference.
     *
     * @param reference its quality says how good it is
     * @param probes the others
     */
    public static ProbeCheckResult sideBySide(
            TimeSpan span, SurveyPoint reference, List<SurveyPoint> probes, Bath bath) {
        List<SurveyPoint> all = new ArrayList<>();
        all.add(reference);
        all.addAll(probes);
        return new ProbeCheck(span, all, bath).run(true);
    }

    /** In melting ice. */
    public static ProbeCheckResult icePoint(TimeSpan span, List<SurveyPoint> probes, Bath bath) {
        return new ProbeCheck(span, probes, bath).run(false);
    }

    private ProbeCheckResult run(boolean firstIsReference) {
        if (probes.isEmpty() || (firstIsReference && probes.size() < 2)) {
            return withheld(Reason.Kind.TOO_FEW_POINTS, "There is no probe to check.");
        }
        Cells all =
                Cells.of(
                        span,
                        Cells.CELL_MILLIS_MIN,
                        probes.stream().map(SurveyPoint::curve).toArray(Curve[]::new));
        if (all.size() < SETTLED_MINUTES) {
            return withheld(
                    Reason.Kind.TOO_SHORT,
                    "A check needs "
                            + SETTLED_MINUTES
                            + " min of readings after all probes have settled, but there are "
                            + all.size()
                            + " min.");
        }
        Cells end = all.part(all.size() - SETTLED_MINUTES, all.size());
        List<Reason> reasons = new ArrayList<>();
        for (int i = 0; i < probes.size(); i++) {
            trouble(end, i).ifPresent(reasons::add);
        }
        return reasons.isEmpty()
                ? new ProbeCheckResult.Checked(offsets(end, firstIsReference))
                : new ProbeCheckResult.Withheld(reasons);
    }

    private Optional<Reason> trouble(Cells end, int probe) {
        String name = probes.get(probe).probe();
        if (end.missing(probe) > MISSING_SHARE_MAX * end.size()) {
            return Optional.of(
                    new Reason(
                            Reason.Kind.GAPS,
                            name
                                    + " has no good reading in "
                                    + end.missing(probe)
                                    + " of the last "
                                    + SETTLED_MINUTES
                                    + " min."));
        }
        double mean = end.mean(probe, 0, end.size());
        double farthest = 0;
        for (int cell = 0; cell < end.size(); cell++) {
            double from = end.value(probe, cell) - mean;
            farthest = Math.abs(from) > Math.abs(farthest) ? from : farthest;
        }
        if (Math.abs(farthest) > STEADY_KELVIN) {
            int half = end.size() / 2;
            double rise = end.mean(probe, half, end.size()) - end.mean(probe, 0, half);
            return Optional.of(
                    new Reason(
                            Reason.Kind.NEVER_SETTLED,
                            String.format(
                                    Locale.ROOT,
                                    "%s still changes: in the last %d min it was up to %.2f K from"
                                            + " its mean and %s; wait until all probes keep within"
                                            + " ±%.2f K for so long.",
                                    name,
                                    SETTLED_MINUTES,
                                    Math.abs(farthest),
                                    Math.abs(rise) < STEADY_KELVIN / 2
                                            ? "goes up and down"
                                            : rise > 0 ? "rises" : "falls",
                                    STEADY_KELVIN)));
        }
        return Optional.empty();
    }

    private List<ProbeOffset> offsets(Cells end, boolean firstIsReference) {
        Instant at = Instant.ofEpochMilli(end.beginMillis(end.size()));
        List<ProbeOffset> offsets = new ArrayList<>();
        double[] reference = new double[end.size()];
        double ofReference = 0;
        if (firstIsReference) {
            reference = end.withoutHoles(0);
            ProbeQuality quality = probes.get(0).quality();
            for (int t = 0; t < reference.length; t++) {
                reference[t] += quality.offset();
            }
            ofReference = quality.standardUncertainty(scatter(reference));
        } else {
            Arrays.fill(reference, ICE_CELSIUS);
        }
        for (int i = firstIsReference ? 1 : 0; i < probes.size(); i++) {
            double[] own = end.withoutHoles(i);
            double[] difference = new double[own.length];
            for (int t = 0; t < own.length; t++) {
                difference[t] = reference[t] - own[t];
            }
            double systematic =
                    Math.hypot(
                            ofReference,
                            Math.hypot(
                                    probes.get(i).quality().stepUncertainty(scatter(own)),
                                    ProbeQuality.rectangular(bath.unlikeKelvin())));
            offsets.add(
                    new ProbeOffset(
                            probes.get(i).probe(),
                            SlowPart.of(difference).meanEstimate().withSystematic(systematic),
                            at));
        }
        return offsets;
    }

    private static double scatter(double[] values) {
        return new StandardDeviation().evaluate(values);
    }

    private static ProbeCheckResult withheld(Reason.Kind kind, String words) {
        return new ProbeCheckResult.Withheld(List.of(new Reason(kind, words)));
    }
}
