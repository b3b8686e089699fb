package io.evenwarm.monitor.evenness;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * How even a cabinet was.
 *
 * @param points in the order in which they were given
 * @param gradient greatest difference of the means of two points
 * @param warmest index of the point at its upper end
 * @param coldest index of the point at its lower end
 * @param variationInSpace greatest difference, in size, of a point's mean from that at the centre;
 *     empty without a point at the centre
 * @param topMinusBottom mean of the points at the top less mean of those at the bottom; empty where
 *     one of the two is missing
 * @param worstFluctuation index of the point with the greatest fluctuation
 * @param worstDeviation index of the point with the greatest deviation from the set point
 * @param wanted the set point, or the mean of all points for humidity; empty where none is known
 * @param limit of the greatest deviation
 * @param verdict on all points; empty where no set point or limit is known
 * @param series what the figures are of, for a comparison
 */
public record EvennessFigures(
        Measure measure,
        List<PointFigures> points,
        Estimate gradient,
        int warmest,
        int coldest,
        Optional<Estimate> variationInSpace,
        Optional<Estimate> topMinusBottom,
        int worstFluctuation,
        Optional<Integer> worstDeviation,
        OptionalDouble wanted,
        OptionalDouble limit,
        Optional<Verdict> verdict,
        FigureSeries series) {

    public EvennessFigures {
        points = List.copyOf(points);
    }
}
