package io.evenwarm.agent.control;

/**
 * A first-order process with dead time: what a step test sees of a cabinet.
 *
 * @param gainKelvin K, kelvin for full duty; not 0
 * @param timeConstantSeconds τ; above 0
 * @param deadTimeSeconds θ; above 0
 */
public record ProcessModel(double gainKelvin, double timeConstantSeconds, double deadTimeSeconds) {

    public ProcessModel {
        if (!(Math.abs(gainKelvin) > 0 && Math.abs(gainKelvin) < 1e6)
                || !(timeConstantSeconds > 0 && timeConstantSeconds < 1e7)
                || !(deadTimeSeconds > 0 && deadTimeSeconds < 1e6)) {
            throw new IllegalArgumentException(
                    "no process has a gain of "
                            + gainKelvin
                            + " K, a time constant of "
                            + timeConstantSeconds
                            + " s and a dead time of "
                            + deadTimeSeconds
                            + " s");
        }
    }

    /** Change of the value this long after a step of the duty, K. */
    public double responseKelvin(double dutyStep, double seconds) {
        return seconds <= deadTimeSeconds
                ? 0
                : gainKelvin
                        * dutyStep
                        * (1 - StrictMath.exp(-(seconds - deadTimeSeconds) / timeConstantSeconds));
    }

    /**
     * From the times at which a step's response has reached 28.3 % and 63.2 % of its end: τ = 1.5
     * (t63 − t28), θ = t63 − τ (the two-point method of C. L. Smith, from memory).
     */
    public static ProcessModel fromTwoPoints(
            double gainKelvin, double t28Seconds, double t63Seconds) {
        double timeConstant = 1.5 * (t63Seconds - t28Seconds);
        return new ProcessModel(gainKelvin, timeConstant, t63Seconds - timeConstant);
    }

    /**
     * The gain and period at which this process would swing on under a proportional controller.
     * With the phase ωθ + atan(ωτ) = π solved by bisection.
     */
    public UltimatePoint ultimatePoint() {
        double low = 0;
        double high = StrictMath.PI / deadTimeSeconds;
        for (int i = 0; i < 200; i++) {
            double middle = (low + high) / 2;
            double phase = middle * deadTimeSeconds + StrictMath.atan(middle * timeConstantSeconds);
            if (phase < StrictMath.PI) {
                low = middle;
            } else {
                high = middle;
            }
        }
        double gain =
                StrictMath.sqrt(1 + low * timeConstantSeconds * low * timeConstantSeconds)
                        / Math.abs(gainKelvin);
        return new UltimatePoint(gain, 2 * StrictMath.PI / low);
    }
}
