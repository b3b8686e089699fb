package io.evenwarm.agent.guard.health;

/**
 * Whether the air still answers to the relay's own cycle, in the blocks that speak for a heater
 * that gives nothing. A room that gets cold fast makes the air sink although it is heated more and
 * more, as if no heat came; but each time on of the heater then shows in the air all the same.
 */
final class HeatAnswer {

    /** What heat does not explain keeps its direction for about this many blocks. */
    private static final double BLOCKS_ALIKE = 6;

    /** So much of the learned answer must be there, for sure by so many standard errors. */
    private static final double LEAST_SHARE = 0.3;

    private static final double ERRORS = 2;

    /** A mean and a line need two of them. */
    private static final int LEAST_BLOCKS = 3;

    private final Lag delayed = new Lag(HeatResponse.PROBE_LAG_SECONDS);
    private Lag heat = new Lag(250);
    private double lagSeconds = 250;
    private final Lag slowHeat = new Lag(HeatResponse.WASHOUT_SECONDS);
    private final Lag slowAir = new Lag(HeatResponse.WASHOUT_SECONDS);
    private int blocks;
    private double share;
    private double kelvin;
    private double shareShare;
    private double shareKelvin;
    private double timeShare;
    private double timeKelvin;

    /** Nothing speaks for a heater that gives nothing: from here on it may begin. */
    void restart() {
        blocks = 0;
        share = 0;
        kelvin = 0;
        shareShare = 0;
        shareKelvin = 0;
        timeShare = 0;
        timeKelvin = 0;
    }

    /**
     * Takes a block in.
     *
     * @param heatShare commanded, 0 to 1; 0 while it was cut off
     * @param celsius of the air
     * @param response learned
     */
    void take(double heatShare, double celsius, HeatResponse response) {
        if (response.lagSeconds() != lagSeconds) {
            double before = heat.value();
            lagSeconds = response.lagSeconds();
            heat = new Lag(lagSeconds);
            heat.set(before);
        }
        double lagged = heat.step(delayed.step(heatShare));
        double fastHeat = lagged - slowHeat.value();
        double fastAir = celsius - slowAir.value();
        slowHeat.step(lagged);
        slowAir.step(celsius);
        blocks++;
        share += fastHeat;
        kelvin += fastAir;
        shareShare += fastHeat * fastHeat;
        shareKelvin += fastHeat * fastAir;
        timeShare += blocks * fastHeat;
        timeKelvin += blocks * fastAir;
    }

    /** Something else moved the air: what is slow begins anew from what is read now. */
    void restart(double celsius) {
        restart();
        slowHeat.set(heat.value());
        slowAir.set(celsius);
    }

    /**
     * Whether heat comes for sure. Slow movement of air and heat says nothing here: neither their
     * means nor what goes along with time. Walls that have cooled let the air fall ever more slowly
     * while control asks for ever more heat, and that looks like an answer.
     */
    boolean isClear(HeatResponse response) {
        if (blocks < LEAST_BLOCKS) {
            return false;
        }
        double middle = (blocks + 1) / 2.0;
        double times = blocks * ((double) blocks * blocks - 1) / 12;
        double timeAndShare = timeShare - middle * share;
        double timeAndKelvin = timeKelvin - middle * kelvin;
        double squares =
                Math.max(
                        0,
                        shareShare - share * share / blocks - timeAndShare * timeAndShare / times);
        double products =
                shareKelvin - share * kelvin / blocks - timeAndShare * timeAndKelvin / times;
        double error = response.scatterKelvin() * Math.sqrt(BLOCKS_ALIKE * squares);
        return products - ERRORS * error > LEAST_SHARE * response.kelvin() * squares;
    }
}
