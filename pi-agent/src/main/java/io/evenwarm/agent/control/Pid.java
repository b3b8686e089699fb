package io.evenwarm.agent.control;

/**
 * A PID controller as arithmetic: state in, output and new state out.
 *
 * <p>The discretisation of Åström and Murray, Feedback Systems, chapter "PID Control", section
 * "Implementation" (from memory), with period h:
 *
 * <pre>
 * P = k (b r − y)
 * D = ad D − bd (y − y_old)         ad = Tf/(Tf + h), bd = kd/(Tf + h)
 * v = P + I + D,  u = v limited to 0..1
 * I = I + bi (r − y) + br (u − v)   bi = ki h,        br = h/Tt
 * </pre>
 *
 * <p>The derivative acts on the measurement, so that a new set point gives no kick. At a limit the
 * integral is drawn back with time constant Tt, so that it cannot wind up; br is kept at 1 or less,
 * so that a step longer than Tt does not overshoot what it draws back to.
 */
final class Pid {

    private Pid() {}

    /**
     * One step.
     *
     * @param setPoint r, finite
     * @param measured y, finite
     * @param periodSeconds h, time since the step before; above 0
     */
    static PidStep step(
            PidGains gains,
            PidState state,
            double setPoint,
            double measured,
            double periodSeconds) {
        double error = setPoint - measured;
        double proportional = gains.gain() * (gains.setPointWeight() * setPoint - measured);
        double filter = gains.filterSeconds() + periodSeconds;
        double derivative =
                (gains.filterSeconds() * state.derivative()
                                - gains.derivativeGain() * (measured - state.measured()))
                        / filter;
        double unlimited = proportional + state.integral() + derivative;
        double output = Math.max(0, Math.min(1, unlimited));
        double back = Math.min(1, periodSeconds / gains.trackingSeconds());
        double integral =
                state.integral()
                        + gains.integralGain() * periodSeconds * error
                        + back * (output - unlimited);
        return new PidStep(output, unlimited, new PidState(integral, derivative, measured));
    }
}
