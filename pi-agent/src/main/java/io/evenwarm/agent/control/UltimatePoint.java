package io.evenwarm.agent.control;

/**
 * Where a loop under a proportional controller alone would just swing on.
 *
 * @param gainPerKelvin Ku, duty for a kelvin; above 0
 * @param periodSeconds Pu; above 0
 */
public record UltimatePoint(double gainPerKelvin, double periodSeconds) {

    public UltimatePoint {
        if (!(gainPerKelvin > 0 && gainPerKelvin < 1e6)
                || !(periodSeconds > 0 && periodSeconds < 1e6)) {
            throw new IllegalArgumentException(
                    "no loop swings with a gain of "
                            + gainPerKelvin
                            + " /K and a period of "
                            + periodSeconds
                            + " s");
        }
    }

    /**
     * From a relay in the loop: Ku = 4 d / (π √(a² − ε²)) (Åström and Hägglund, Automatica 20
     * (1984) 645, from memory). It takes the swing for a sine, and is some way off where it is
     * none.
     *
     * @param relayDuty d, half of the difference between the relay's two duties
     * @param swingKelvin a, half of the swing from peak to peak
     * @param hysteresisKelvin ε, half of the relay's band; below a
     */
    public static UltimatePoint fromRelay(
            double relayDuty, double swingKelvin, double hysteresisKelvin, double periodSeconds) {
        double shrunk = swingKelvin * swingKelvin - hysteresisKelvin * hysteresisKelvin;
        return new UltimatePoint(
                4 * relayDuty / (StrictMath.PI * StrictMath.sqrt(shrunk)), periodSeconds);
    }
}
