package io.evenwarm.agent.guard.health;

/** Whether one probe scatters far more from sample to sample than it used to. */
final class ScatterSense {

    private static final double MEMORY_BLOCKS = 8640;
    private static final double RECENT_SECONDS = 300;
    private static final int LEARNING_BLOCKS = 360;

    /** Root mean square of a step that no air makes within seconds, K. */
    private static final double LEAST_KELVIN = 0.12;

    private static final double TIMES_USUAL = 4;
    private static final double TIMES_USUAL_TO_CLEAR = 2.5;

    private final Lag recent = new Lag(RECENT_SECONDS);
    private double usual;
    private int blocks;
    private boolean isNoisy;

    /**
     * Takes a block in.
     *
     * @param meanSquaredStep from sample to sample, K²
     * @param samples how many it had
     * @param isQuiet whether nothing moves the air fast
     */
    void take(double meanSquaredStep, int samples, boolean isQuiet) {
        if (samples == 0 || !isQuiet) {
            return;
        }
        double now = recent.step(meanSquaredStep);
        double times = isNoisy ? TIMES_USUAL_TO_CLEAR : TIMES_USUAL;
        double least = LEAST_KELVIN * LEAST_KELVIN * (isNoisy ? 0.5 : 1);
        isNoisy = blocks > LEARNING_BLOCKS && now > Math.max(least, times * times * usual);
        if (!isNoisy) {
            blocks = Math.min(blocks + 1, (int) MEMORY_BLOCKS);
            usual += (meanSquaredStep - usual) / blocks;
        }
    }

    boolean isNoisy() {
        return isNoisy;
    }

    /** Root mean square of the step from sample to sample over the last minutes, K. */
    double stepKelvin() {
        return Math.sqrt(recent.value());
    }
}
