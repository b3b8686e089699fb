package io.evenwarm.agent.control;

import java.util.Optional;

/**
 * Fits a {@link ProcessModel} to a step's response by least squares: dead time and time constant by
 * a search over a grid, the gain in closed form for each. About 2 ms of work, once a test.
 */
final class StepFit {

    /** The response is averaged over so long: noise and the relay's switching go down. */
    static final double BIN_SECONDS = 10;

    private static final int DEAD_TIMES = 60;
    private static final double DEAD_TIME_STEP_SECONDS = 5;
    private static final int TIME_CONSTANTS = 48;
    private static final double SHORTEST_TIME_CONSTANT = 30;
    private static final double TIME_CONSTANT_RATIO = 1.15;

    private StepFit() {}

    /**
     * The model that fits best.
     *
     * @param changes mean change of the value since the step in each bin, K
     * @param count how many bins are filled
     * @param dutyStep the step, not 0
     * @return empty when the response says nothing: no model fits better than none at all
     */
    static Optional<ProcessModel> fit(double[] changes, int count, double dutyStep) {
        double none = 0;
        for (int i = 0; i < count; i++) {
            none += changes[i] * changes[i];
        }
        double best = none / 2;
        Optional<ProcessModel> found = Optional.empty();
        for (int d = 1; d <= DEAD_TIMES; d++) {
            double dead = d * DEAD_TIME_STEP_SECONDS;
            double constant = SHORTEST_TIME_CONSTANT;
            for (int c = 0; c < TIME_CONSTANTS; c++) {
                constant *= TIME_CONSTANT_RATIO;
                double shape = 0;
                double both = 0;
                double ratio = StrictMath.exp(-BIN_SECONDS / constant);
                double decay = 1;
                boolean isMoving = false;
                for (int i = 0; i < count; i++) {
                    double after = (i + 0.5) * BIN_SECONDS - dead;
                    if (after <= 0) {
                        continue;
                    }
                    decay = isMoving ? decay * ratio : StrictMath.exp(-after / constant);
                    isMoving = true;
                    shape += (1 - decay) * (1 - decay);
                    both += (1 - decay) * changes[i];
                }
                // Without this much response beyond the dead time any gain would fit.
                if (shape < 1e-3) {
                    continue;
                }
                double error = none - both * both / shape;
                double gain = both / shape / dutyStep;
                if (error < best && gain > 0) {
                    best = error;
                    found = Optional.of(new ProcessModel(gain, constant, dead));
                }
            }
        }
        return found;
    }
}
