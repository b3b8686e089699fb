package io.evenwarm.agent.guard.health;

import java.util.ArrayList;
import java.util.List;

/**
 * The suppositions that the heater obeys and gives only a part of what it did, since some minutes
 * ago: half of its wires burnt, something fell on it. The air falls at first as with one that gives
 * nothing, and then no farther, because control asks for more.
 *
 * <p>The logarithm of the likelihood ratio between a heater that gives nothing and each of these is
 * added up block by block, from where the supposition of nothing began, and goes on once that is
 * believed: then the duty has risen, and part and nothing are farther from each other than before.
 */
final class PartOfHeat {

    /**
     * What may be left of the power. Less than a quarter holds hardly any cabinet, and is as good
     * as none.
     */
    private static final double[] PARTS = {0.25, 0.5, 0.75};

    private static final double MOST_A_BLOCK = 4;

    /** What spoke for a part long ago must not outweigh that now nothing comes. */
    private static final double LEAST = -24;

    private static final double LATELY_SECONDS = 300;

    private final HeatModel nothing = new HeatModel();
    private final List<HeatModel> models = new ArrayList<>();
    private final double[] forNothing = new double[PARTS.length];
    private final Lag[] left = new Lag[PARTS.length];

    PartOfHeat() {
        for (int i = 0; i < PARTS.length; i++) {
            models.add(new HeatModel());
            left[i] = new Lag(LATELY_SECONDS);
        }
    }

    /** All was as usual up to now: from here on a part may have been lost. */
    void restart(HeatModel holding) {
        goOn(holding);
        for (int i = 0; i < PARTS.length; i++) {
            forNothing[i] = 0;
            left[i].set(0);
        }
    }

    /** Something else moved the air: what was known stays, and goes on from what is read now. */
    void goOn(HeatModel holding) {
        nothing.startFrom(holding);
        for (HeatModel model : models) {
            model.startFrom(holding);
        }
    }

    /**
     * Takes a block in.
     *
     * @param heatShare commanded, 0 to 1; 0 while it was cut off
     * @param celsius of the air
     * @param kelvinPerShare the cabinet's response
     * @param perSquaredKelvin evidence for each square of a kelvin, above 0
     */
    void step(double heatShare, double celsius, double kelvinPerShare, double perSquaredKelvin) {
        nothing.step(0, celsius, kelvinPerShare);
        double without = nothing.surpriseKelvin();
        for (int i = 0; i < PARTS.length; i++) {
            HeatModel model = models.get(i);
            model.step(PARTS[i] * heatShare, celsius, kelvinPerShare);
            double with = model.surpriseKelvin();
            left[i].step(with * with);
            double gain = (with * with - without * without) * perSquaredKelvin;
            double limited = Math.max(-MOST_A_BLOCK, Math.min(MOST_A_BLOCK, gain));
            forNothing[i] = Math.max(LEAST, forNothing[i] + limited);
        }
    }

    /**
     * What speaks for a heater that gives nothing against the best of these; below 0 against it.
     */
    double againstBest() {
        double least = Double.POSITIVE_INFINITY;
        for (double evidence : forNothing) {
            least = Math.min(least, evidence);
        }
        return least;
    }

    /** The one that gives most, and so is nearest to a heater that gives all. */
    HeatModel mostModel() {
        return models.get(PARTS.length - 1);
    }

    /** The one that left least unexplained lately. */
    HeatModel bestModel() {
        int best = 0;
        for (int i = 1; i < PARTS.length; i++) {
            if (left[i].value() < left[best].value()) {
                best = i;
            }
        }
        return models.get(best);
    }
}
