package io.evenwarm.agent.control;

/** How near a tuned loop comes to swinging. */
final class Robustness {

    private static final int POINTS = 2000;

    private Robustness() {}

    /**
     * Ms, the peak of |1/(1 + L)| over all frequencies, with L the open loop of an ideal PID and a
     * first-order process with dead time. Below 1.6 is smooth, above 2 too near (Åström and
     * Hägglund name 1.4 to 2 as usual, from memory).
     */
    static double peakSensitivity(ProcessModel model, TuningRule.Constants constants) {
        double worst = 0;
        double first = 0.001 / model.deadTimeSeconds();
        double last = 10 / model.deadTimeSeconds();
        for (int i = 0; i <= POINTS; i++) {
            double w = first * StrictMath.pow(last / first, (double) i / POINTS);
            // Controller: Kc (1 + j (w τD − 1/(w τI))).
            double controllerImaginary =
                    w * constants.derivativeSeconds() - 1 / (w * constants.integralSeconds());
            double size = constants.gainPerKelvin() * StrictMath.hypot(1, controllerImaginary);
            double phase = StrictMath.atan(controllerImaginary);
            double wt = w * model.timeConstantSeconds();
            size *= Math.abs(model.gainKelvin()) / StrictMath.sqrt(1 + wt * wt);
            phase -= StrictMath.atan(wt) + w * model.deadTimeSeconds();
            double real = 1 + size * StrictMath.cos(phase);
            double imaginary = size * StrictMath.sin(phase);
            worst = Math.max(worst, 1 / StrictMath.hypot(real, imaginary));
        }
        return worst;
    }
}
