package io.evenwarm.agent.guard.health;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;

/**
 * The supposition that the heater obeys and gives more than it did, since some minutes ago: a weak
 * one was mended, or a stronger one put in. The air warms faster than was learned then, as it does
 * with a heater that is always on, but only by what was commanded.
 */
final class StrongerHeater {

    /**
     * A quarter more, two thirds and half of the power that are whole again, and what half of it
     * looks like after hours at full command, in which its heat was learned with little to see.
     */
    private static final double[] TIMES = {1.25, 1.6, 2.0, 2.5, 3.0};

    /** The heat of the minutes before it shows in the air counts, too: so many beginnings. */
    private static final int BEGINNINGS = 6;

    private static final int BLOCKS_BETWEEN = 6;

    /** One for each beginning, the last one first. */
    private final Deque<List<HeatModel>> begun = new ArrayDeque<>();

    private int blocks;

    /** Nothing of before counts any more. */
    void restart(HeatModel holding) {
        begun.clear();
        begin(holding);
    }

    /** All was as usual up to now: what may have begun long ago gives way. */
    void isUsual(HeatModel holding) {
        if (blocks < BLOCKS_BETWEEN) {
            return;
        }
        if (begun.size() == BEGINNINGS) {
            begun.removeLast();
        }
        begin(holding);
    }

    private void begin(HeatModel holding) {
        List<HeatModel> models = new ArrayList<>();
        for (int i = 0; i < TIMES.length; i++) {
            HeatModel model = new HeatModel();
            model.startFrom(holding);
            models.add(model);
        }
        begun.addFirst(models);
        blocks = 0;
    }

    /**
     * Takes a block in.
     *
     * @param heatShare commanded, 0 to 1
     * @param celsius of the air
     * @param kelvinPerShare the cabinet's response as it was learned
     */
    void step(double heatShare, double celsius, double kelvinPerShare) {
        blocks++;
        for (List<HeatModel> models : begun) {
            for (int i = 0; i < TIMES.length; i++) {
                models.get(i).step(TIMES[i] * heatShare, celsius, kelvinPerShare);
            }
        }
    }

    /**
     * Whether this leaves less of the air's movement unexplained than another supposition does, or
     * no more than what is usual.
     *
     * @param usualKelvin what is left unexplained by chance, K, where a stronger heater is to be
     *     expected; 0 where not
     */
    boolean explains(double othersSurpriseKelvin, double usualKelvin) {
        double least = Math.max(Math.abs(othersSurpriseKelvin), usualKelvin);
        return begun.stream()
                .flatMap(List::stream)
                .anyMatch(model -> Math.abs(model.surpriseKelvin()) < least);
    }
}
