package io.evenwarm.agent.plan;

/**
 * How control is tuned. The defaults hold any cabinet of the range in {@code docs/plant.md} whose
 * heater has 1.5 to 5 times the power that holds it in a cold room.
 *
 * @param gainPerKelvin proportional gain k, duty per kelvin, where a duty of 0.3 holds the cabinet;
 *     above 0. Control scales it with the square root of the duty that does hold it
 * @param integralSeconds integral time Ti; above 0
 * @param derivativeSeconds derivative time Td, on the measurement; 0 for none
 * @param setPointWeight b in k(b r − y): how much of a new set point counts at once; 0 to 1
 * @param windowSeconds period of the time-proportioned output; the relay operates at most once in
 *     it
 * @param minimumOnSeconds the heater relay stays on at least this long
 * @param minimumOffSeconds the heater relay stays off at least this long (safety may end an on-time
 *     early, never an off-time)
 * @param gainFollowsDuty whether the gain is scaled with the square root of the holding duty, which
 *     makes one set of constants fit all cabinets; constants that were found for this cabinet stand
 *     as they are
 * @param relay what switches the heater
 * @param ratedOperations how often the heater's relay may switch in its life, by its data sheet;
 *     above 0
 */
public record ControlPlan(
        double gainPerKelvin,
        double integralSeconds,
        double derivativeSeconds,
        double setPointWeight,
        double windowSeconds,
        double minimumOnSeconds,
        double minimumOffSeconds,
        boolean gainFollowsDuty,
        Relay relay,
        int ratedOperations) {

    /** A relay for mains loads: 100,000 operations at rated load (a common data sheet's figure). */
    public static final int USUAL_RATED_OPERATIONS = 100_000;

    /** More wear than this a day a mechanical relay is not asked to bear. */
    public static final int DAILY_OPERATIONS = 750;

    private static final double DAY_SECONDS = 86_400;

    /** What switches the heater. */
    public enum Relay {
        /** Wears with each operation. */
        MECHANICAL,
        /** Does not wear, and may switch each second. */
        SOLID_STATE
    }

    /** The shortest window in which a mechanical relay operates at most 750 times a day, s. */
    public static double shortestMechanicalWindowSeconds() {
        return DAY_SECONDS / DAILY_OPERATIONS;
    }

    /** As for every cabinet, with a mechanical relay of the usual life. */
    public ControlPlan(
            double gainPerKelvin,
            double integralSeconds,
            double derivativeSeconds,
            double setPointWeight,
            double windowSeconds,
            double minimumOnSeconds,
            double minimumOffSeconds) {
        this(
                gainPerKelvin,
                integralSeconds,
                derivativeSeconds,
                setPointWeight,
                windowSeconds,
                minimumOnSeconds,
                minimumOffSeconds,
                true,
                windowSeconds < shortestMechanicalWindowSeconds()
                        ? Relay.SOLID_STATE
                        : Relay.MECHANICAL,
                USUAL_RATED_OPERATIONS);
    }

    /** The same relay with constants that were found for this cabinet. */
    public ControlPlan tuned(double gain, double integral, double derivative) {
        return new ControlPlan(
                gain,
                integral,
                derivative,
                setPointWeight,
                windowSeconds,
                minimumOnSeconds,
                minimumOffSeconds,
                false,
                relay,
                ratedOperations);
    }

    /** The same constants with another window, and this as the shortest time on and off, s. */
    public ControlPlan withWindow(double otherWindowSeconds, double minimumSeconds) {
        return new ControlPlan(
                gainPerKelvin,
                integralSeconds,
                derivativeSeconds,
                setPointWeight,
                otherWindowSeconds,
                minimumSeconds,
                minimumSeconds,
                gainFollowsDuty,
                relay,
                ratedOperations);
    }

    /**
     * For a mechanical relay: at most 655 operations a day. Found by a search over simulated
     * cabinets ({@code HoldsTemperatureIT} shows what they do).
     */
    public static ControlPlan defaults() {
        return new ControlPlan(0.64, 1450, 8, 1.0, 132, 12, 12);
    }

    /**
     * For a solid-state relay, which does not wear: a window short enough for tight control, and
     * long enough for its cycle to show in the air, from which guard learns what the heater does.
     */
    public static ControlPlan solidStateDefaults() {
        return new ControlPlan(0.64, 1450, 8, 1.0, 60, 1, 1);
    }

    public ControlPlan {
        requirePositive("gain", gainPerKelvin);
        requirePositive("integral time", integralSeconds);
        requirePositive("window", windowSeconds);
        if (!(derivativeSeconds >= 0) || !(minimumOnSeconds >= 0) || !(minimumOffSeconds >= 0)) {
            throw new IllegalArgumentException("times must be 0 s or more");
        }
        if (!(setPointWeight >= 0 && setPointWeight <= 1)) {
            throw new IllegalArgumentException(
                    "set-point weight must be 0 to 1 but was " + setPointWeight);
        }
        if (ratedOperations <= 0) {
            throw new IllegalArgumentException(
                    "rated operations must be above 0 but were " + ratedOperations);
        }
        if (minimumOnSeconds + minimumOffSeconds > windowSeconds) {
            throw new IllegalArgumentException(
                    "minimum on and off times must fit into the window of " + windowSeconds + " s");
        }
    }

    private static void requirePositive(String what, double value) {
        if (!(value > 0 && value < 1e6)) {
            throw new IllegalArgumentException(what + " must be above 0 but was " + value);
        }
    }
}
