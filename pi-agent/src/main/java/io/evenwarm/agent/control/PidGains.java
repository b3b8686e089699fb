package io.evenwarm.agent.control;

/**
 * The constants of a {@link Pid}.
 *
 * @param gain k, output per kelvin; above 0
 * @param integralGain ki, output per kelvin and second; 0 or more
 * @param derivativeGain kd, output per kelvin a second; 0 or more
 * @param filterSeconds Tf, time constant of the derivative's filter; 0 or more
 * @param trackingSeconds Tt, time constant with which the integral gives way at a limit; above 0
 * @param setPointWeight b in k(b r − y); 0 to 1
 */
record PidGains(
        double gain,
        double integralGain,
        double derivativeGain,
        double filterSeconds,
        double trackingSeconds,
        double setPointWeight) {

    PidGains {
        if (!(gain > 0 && gain < 1e9)
                || !(integralGain >= 0 && integralGain < 1e9)
                || !(derivativeGain >= 0 && derivativeGain < 1e9)
                || !(filterSeconds >= 0 && filterSeconds < 1e9)
                || !(trackingSeconds > 0 && trackingSeconds < 1e9)
                || !(setPointWeight >= 0 && setPointWeight <= 1)) {
            throw new IllegalArgumentException(
                    "gains out of range: k "
                            + gain
                            + ", ki "
                            + integralGain
                            + ", kd "
                            + derivativeGain
                            + ", Tf "
                            + filterSeconds
                            + " s, Tt "
                            + trackingSeconds
                            + " s, b "
                            + setPointWeight);
        }
    }
}
