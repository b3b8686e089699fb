package io.evenwarm.monitor.evenness;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** How each figure of one measure changed from one survey to the next. */
final class FigureChanges {

    private final EvennessFigures before;
    private final EvennessFigures after;
    private final Optional<Change.Cause> cause;

    /**
     * @param before of the same places and measure as those after
     * @param cause what parts the cabinet's air, where both surveys are to be brought to the same;
     *     of humidity there is none
     */
    FigureChanges(EvennessFigures before, EvennessFigures after, Optional<Change.Cause> cause) {
        this.before = before;
        this.after = after;
        this.cause = cause;
    }

    /** The gradient's first. */
    List<FigureChange> all() {
        List<FigureChange> changes = new ArrayList<>();
        changes.add(change(FigureChange.Figure.GRADIENT, gradient(before), gradient(after)));
        variation().ifPresent(changes::add);
        parting().ifPresent(changes::add);
        deviation().ifPresent(changes::add);
        fluctuation().ifPresent(changes::add);
        return changes;
    }

    private static Combination gradient(EvennessFigures of) {
        return Combination.pair(of.series(), of.warmest(), of.coldest());
    }

    private Optional<FigureChange> variation() {
        Optional<Combination> then = farthestFromCentre(before);
        Optional<Combination> now = farthestFromCentre(after);
        return then.isEmpty() || now.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        change(FigureChange.Figure.VARIATION_IN_SPACE, then.get(), now.get()));
    }

    private static Optional<Combination> farthestFromCentre(EvennessFigures of) {
        int farthest = -1;
        int centre = -1;
        double most = -1;
        for (int i = 0; i < of.points().size(); i++) {
            Optional<Estimate> variation = of.points().get(i).variationInSpace();
            if (variation.isEmpty()) {
                centre = centre < 0 ? i : centre;
            } else if (Math.abs(variation.get().value()) > most) {
                most = Math.abs(variation.get().value());
                farthest = i;
            }
        }
        return farthest < 0
                ? Optional.empty()
                : Optional.of(Combination.pair(of.series(), farthest, centre));
    }

    private Optional<FigureChange> parting() {
        Optional<Combination> then = topMinusBottom(before);
        Optional<Combination> now = topMinusBottom(after);
        return then.isEmpty() || now.isEmpty()
                ? Optional.empty()
                : Optional.of(change(FigureChange.Figure.TOP_MINUS_BOTTOM, then.get(), now.get()));
    }

    private static Optional<Combination> topMinusBottom(EvennessFigures of) {
        return of.series()
                .topMinusBottomWeights()
                .map(weights -> new Combination(of.series(), of.series().sum(weights), weights));
    }

    private Optional<FigureChange> deviation() {
        Optional<Combination> then = farthestFromWanted(before);
        Optional<Combination> now = farthestFromWanted(after);
        return then.isEmpty() || now.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        // What a set point decides does not depend on the room.
                        change(
                                FigureChange.Figure.DEVIATION,
                                then.get(),
                                now.get(),
                                Optional.empty()));
    }

    /** From the set point, or from the mean of all points, which is not told but measured too. */
    private static Optional<Combination> farthestFromWanted(EvennessFigures of) {
        if (of.wanted().isEmpty()) {
            return Optional.empty();
        }
        int farthest = 0;
        double most = -1;
        for (int i = 0; i < of.points().size(); i++) {
            double deviation =
                    Math.abs(of.points().get(i).mean().value() - of.wanted().getAsDouble());
            if (deviation > most) {
                most = deviation;
                farthest = i;
            }
        }
        return Optional.of(
                of.measure() == Measure.TEMPERATURE
                        ? Combination.departure(of.series(), farthest, of.wanted().getAsDouble())
                        : Combination.departureFromMean(of.series(), farthest));
    }

    /** The mean of all points' half-hour fluctuations. */
    private Optional<FigureChange> fluctuation() {
        double[] then = halfHours(before);
        double[] now = halfHours(after);
        if (then.length < 4 || now.length < 4) {
            return Optional.empty();
        }
        SlowPart slowThen = SlowPart.of(then);
        SlowPart slowNow = SlowPart.of(now);
        return Optional.of(
                new FigureChange(
                        before.measure(),
                        FigureChange.Figure.FLUCTUATION,
                        slowThen.meanEstimate(),
                        slowNow.meanEstimate(),
                        new Change(slowThen, slowNow).plain(),
                        Optional.empty()));
    }

    private static double[] halfHours(EvennessFigures of) {
        int points = of.points().size();
        double[] mean = of.series().halfHourRanges(0).clone();
        for (int i = 1; i < points; i++) {
            double[] ranges = of.series().halfHourRanges(i);
            for (int h = 0; h < mean.length; h++) {
                mean[h] += ranges[h];
            }
        }
        for (int h = 0; h < mean.length; h++) {
            mean[h] /= points;
        }
        return mean;
    }

    private FigureChange change(FigureChange.Figure figure, Combination then, Combination now) {
        return change(figure, then, now, cause);
    }

    /**
     * @param by what both depend on; empty where nothing is to be corrected
     */
    private FigureChange change(
            FigureChange.Figure figure,
            Combination then,
            Combination now,
            Optional<Change.Cause> by) {
        SlowPart slowThen = then.slowPart();
        SlowPart slowNow = now.slowPart();
        Change change = new Change(slowThen, slowNow);
        Optional<Change.Corrected> corrected = by.flatMap(change::corrected);
        return new FigureChange(
                before.measure(),
                figure,
                slowThen.meanEstimate(),
                slowNow.meanEstimate(),
                corrected
                        .map(Change.Corrected::change)
                        .orElse(change.plain())
                        .withSystematic(Combination.ofProbes(then, now)),
                corrected.map(Change.Corrected::correction));
    }
}
