package io.evenwarm.agent.control;

import java.util.Optional;

/**
 * Fits a {@link ProcessModel} by least squares to what the air did and to the heat that really
 * came, whatever made it come: a relay's times on, its minimum times, and what the guard withheld
 * are all in it. Dead time and time constant by a search over a grid; level and gain in closed form
 * for each. About 10 ms of work, once a test.
 */
final class StepFit {

    /** Air and heat are averaged over so long: noise goes down. */
    static final double BIN_SECONDS = 10;

    private static final int DEAD_TIMES = 30;
    private static final double DEAD_TIME_STEP_SECONDS = 10;
    private static final int TIME_CONSTANTS = 48;
    private static final double SHORTEST_TIME_CONSTANT = 30;
    private static final double TIME_CONSTANT_RATIO = 1.15;

    private final double[] air;
    private final double[] heat;
    private int count;
    private double seconds;
    private double airSum;
    private double heatSum;

    /** Room for so many seconds; what comes after is left out. */
    StepFit(double longestSeconds) {
        int bins = (int) (longestSeconds / BIN_SECONDS);
        air = new double[bins];
        heat = new double[bins];
    }

    /** One step: the air at its end, and whether there was heat in it. */
    void add(double celsius, double elapsedSeconds, boolean heaterWasOn) {
        seconds += elapsedSeconds;
        airSum += celsius * elapsedSeconds;
        heatSum += heaterWasOn ? elapsedSeconds : 0;
        if (seconds < BIN_SECONDS || count == air.length) {
            return;
        }
        air[count] = airSum / seconds;
        heat[count] = heatSum / seconds;
        count++;
        seconds = 0;
        airSum = 0;
        heatSum = 0;
    }

    /** The newest mean; NaN before the first. */
    double newestCelsius() {
        return count == 0 ? Double.NaN : air[count - 1];
    }

    /**
     * The model that fits best.
     *
     * @param holdingDuty that held the air where it was at the beginning, 0 to 1
     * @return empty when the response says nothing: no model leaves less than half unexplained
     */
    Optional<ProcessModel> model(double holdingDuty) {
        double mean = 0;
        for (int i = 0; i < count; i++) {
            mean += air[i] / count;
        }
        double none = 0;
        for (int i = 0; i < count; i++) {
            none += (air[i] - mean) * (air[i] - mean);
        }
        double best = none / 2;
        Optional<ProcessModel> found = Optional.empty();
        for (int dead = 1; dead <= DEAD_TIMES; dead++) {
            double constant = SHORTEST_TIME_CONSTANT;
            for (int c = 0; c < TIME_CONSTANTS; c++) {
                constant *= TIME_CONSTANT_RATIO;
                double keep = StrictMath.exp(-BIN_SECONDS / constant);
                double shape = 0;
                double shapeSum = 0;
                double shapeSquares = 0;
                double both = 0;
                for (int i = 0; i < count; i++) {
                    double acting = i < dead ? 0 : heat[i - dead] - holdingDuty;
                    shape = keep * shape + (1 - keep) * acting;
                    shapeSum += shape;
                    shapeSquares += shape * shape;
                    both += shape * (air[i] - mean);
                }
                double spread = shapeSquares - shapeSum * shapeSum / count;
                // Without this much response any gain would fit.
                if (spread < 1e-9) {
                    continue;
                }
                double gain = both / spread;
                double error = none - both * gain;
                if (error < best && gain > 0) {
                    best = error;
                    found =
                            Optional.of(
                                    new ProcessModel(
                                            gain, constant, (dead - 0.5) * DEAD_TIME_STEP_SECONDS));
                }
            }
        }
        return found;
    }
}
