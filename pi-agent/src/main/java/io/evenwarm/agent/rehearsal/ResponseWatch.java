package io.evenwarm.agent.rehearsal;

import io.evenwarm.message.CabinetSnapshot;
import java.util.OptionalDouble;

/** Watches how control holds the set point in a rehearsal. */
final class ResponseWatch {

    /** From reaching the set point to being settled. */
    private static final int SETTLING_SECONDS = 6 * 3600;

    private static final int MEAN_SECONDS = 600;

    private OptionalDouble reachedAtSeconds = OptionalDouble.empty();
    private double overshootKelvin = Double.NaN;
    private double worstMeanKelvin = Double.NaN;
    private final double[] window = new double[MEAN_SECONDS];
    private double windowSum;
    private int windowSeen;

    /** A scenario that starts settled has reached its set point long ago. */
    void startSettled() {
        reachedAtSeconds = OptionalDouble.of(-SETTLING_SECONDS);
    }

    void see(CabinetSnapshot snapshot, double second) {
        if (snapshot.processValue().isEmpty()) {
            windowSeen = 0;
            windowSum = 0;
            return;
        }
        double offKelvin = snapshot.processValue().get().celsius() - snapshot.setPoint().celsius();
        if (reachedAtSeconds.isEmpty() && offKelvin >= 0) {
            reachedAtSeconds = OptionalDouble.of(second);
        }
        if (reachedAtSeconds.isEmpty()) {
            return;
        }
        overshootKelvin =
                Double.isNaN(overshootKelvin) ? offKelvin : Math.max(overshootKelvin, offKelvin);
        int at = windowSeen % MEAN_SECONDS;
        windowSum += offKelvin - (windowSeen >= MEAN_SECONDS ? window[at] : 0);
        window[at] = offKelvin;
        windowSeen++;
        boolean isSettled = second - reachedAtSeconds.getAsDouble() >= SETTLING_SECONDS;
        if (isSettled && windowSeen >= MEAN_SECONDS) {
            double mean = Math.abs(windowSum / MEAN_SECONDS);
            worstMeanKelvin =
                    Double.isNaN(worstMeanKelvin) ? mean : Math.max(worstMeanKelvin, mean);
        }
    }

    /** What came of it up to now. */
    ControlResponse response() {
        return new ControlResponse(
                reachedAtSeconds.isPresent() && reachedAtSeconds.getAsDouble() < 0
                        ? OptionalDouble.empty()
                        : reachedAtSeconds,
                known(overshootKelvin),
                known(worstMeanKelvin));
    }

    private static OptionalDouble known(double kelvin) {
        return Double.isNaN(kelvin) ? OptionalDouble.empty() : OptionalDouble.of(kelvin);
    }
}
