package io.evenwarm.agent.plan;

/**
 * How moist a cabinet's air is to be, where something acts on it.
 *
 * @param targetPercent relative humidity aimed at; 10 to 98 %
 * @param deadBandPercent nothing is switched while it is within half of this of the target; 1 to 30
 *     %
 * @param shortestSeconds no line is switched again sooner; 1 to 3600 s
 */
public record HumidityPlan(double targetPercent, double deadBandPercent, double shortestSeconds) {

    public HumidityPlan {
        if (!(targetPercent >= 10 && targetPercent <= 98)
                || !(deadBandPercent >= 1 && deadBandPercent <= 30)
                || !(shortestSeconds >= 1 && shortestSeconds <= 3600)) {
            throw new IllegalArgumentException(
                    "humidity of "
                            + targetPercent
                            + " % within "
                            + deadBandPercent
                            + " %, at most every "
                            + shortestSeconds
                            + " s can't be");
        }
    }
}
