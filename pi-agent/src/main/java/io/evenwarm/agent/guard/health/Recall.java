package io.evenwarm.agent.guard.health;

import java.util.List;
import java.util.Optional;
import java.util.SortedMap;

/**
 * What was learned before the start, until the cabinet is as it was then: so long all is learned
 * from nothing. After half an hour near the set point heat and layers are as ever: control, which
 * begins anew too, may let the air sink by a kelvin meanwhile. Walls and tubs that got cold need
 * hours, and then part the layers as no sound cabinet does.
 */
final class Recall {

    private static final int WARM_BLOCKS = 180;
    private static final int COLD_BLOCKS = 10 * 360;

    private static final double NEAR_KELVIN = 0.75;

    /** Farther from the set point, K, or not near it at the start, it has got cold, or too warm. */
    private static final double COLD_KELVIN = 2;

    private Optional<SortedMap<String, List<Double>>> kept = Optional.empty();
    private int blocksLeft = WARM_BLOCKS;
    private boolean hasSeen;

    /** There is something to be taken back. */
    void plan(SortedMap<String, List<Double>> rows) {
        kept = Optional.of(rows);
    }

    /** Whether something still waits to be taken back. */
    boolean isPending() {
        return kept.isPresent();
    }

    /** Takes a block in; K from the set point. */
    void see(double awayKelvin) {
        double away = Math.abs(awayKelvin);
        if (away > (hasSeen ? COLD_KELVIN : NEAR_KELVIN)) {
            blocksLeft = COLD_BLOCKS;
        } else if (away > NEAR_KELVIN) {
            blocksLeft = Math.max(WARM_BLOCKS, blocksLeft);
        } else {
            blocksLeft--;
        }
        hasSeen = true;
    }

    /** What is to be taken back now; only once. */
    Optional<LearnedRows> due() {
        if (kept.isEmpty() || blocksLeft > 0) {
            return Optional.empty();
        }
        Optional<LearnedRows> rows = kept.map(LearnedRows::reading);
        kept = Optional.empty();
        return rows;
    }
}
