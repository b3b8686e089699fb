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

    /** So far above that of any other probe: not the air moves all of them. */
    private static final double TIMES_OTHERS = 4;

    /** A block counts for this much of a step at most, K: one freak sample is no noise. */
    private static final double MOST_KELVIN = 0.6;

    /** So many blocks must have been loud, less the quiet ones between them. */
    private static final int LOUD_BLOCKS = 3;

    private final Lag recent = new Lag(RECENT_SECONDS);
    private final Lag told = new Lag(RECENT_SECONDS);
    private double usual;
    private int blocks;
    private int loudBlocks;
    private boolean isNoisy;

    /**
     * Takes a block in.
     *
     * @param meanSquaredStep from sample to sample, K²
     * @param samples how many it had
     * @param isQuiet whether nothing moves the air fast
     * @param othersSquaredStep the largest of the other probes' recent {@link #squaredStep()}; what
     *     moves the air shows there too
     */
    void take(double meanSquaredStep, int samples, boolean isQuiet, double othersSquaredStep) {
        if (samples == 0) {
            return;
        }
        told.step(meanSquaredStep);
        double now = recent.step(Math.min(meanSquaredStep, MOST_KELVIN * MOST_KELVIN));
        double times = isNoisy ? TIMES_USUAL_TO_CLEAR : TIMES_USUAL;
        double floor = LEAST_KELVIN * LEAST_KELVIN * (isNoisy ? 0.5 : 1);
        double beside = isQuiet ? 0 : TIMES_OTHERS * TIMES_OTHERS * othersSquaredStep;
        double least = Math.max(Math.max(floor, times * times * usual), isNoisy ? 0 : beside);
        boolean isLearned = blocks > LEARNING_BLOCKS;
        boolean isLoud = isLearned && meanSquaredStep > least;
        loudBlocks = isLoud ? Math.min(loudBlocks + 1, LOUD_BLOCKS) : Math.max(0, loudBlocks - 1);
        isNoisy = isLearned && now > least && (isNoisy || loudBlocks >= LOUD_BLOCKS);
        if (!isNoisy && !isLoud && isQuiet) {
            blocks = Math.min(blocks + 1, (int) MEMORY_BLOCKS);
            usual += (meanSquaredStep - usual) / blocks;
        }
    }

    boolean isNoisy() {
        return isNoisy;
    }

    /** Whether the last blocks were as loud as noise is: what else the probe says is doubtful. */
    boolean isLoud() {
        return loudBlocks > 0;
    }

    /** Mean square of that step, K², with what single blocks added held within bounds. */
    double squaredStep() {
        return recent.value();
    }

    /** Root mean square of the step from sample to sample over the last minutes, K. */
    double stepKelvin() {
        return Math.sqrt(told.value());
    }

    /** What is kept through a restart. */
    void learned(LearnedRows rows) {
        usual = rows.number("usual", usual);
        blocks = rows.count("blocks", blocks, 0, (int) MEMORY_BLOCKS);
    }
}
