package io.evenwarm.agent.plant;

/** The cabinet's humidity: vapour as over its damp medium, none lost, none condensing. */
final class Humidity {

    /** Of damp medium; our estimate. */
    private static final double MEDIUM_PERCENT = 90;

    private Humidity() {}

    static double overDampMedium(double mediumCelsius, double airCelsius) {
        double percent = MEDIUM_PERCENT * saturation(mediumCelsius) / saturation(airCelsius);
        return Math.min(100, percent);
    }

    /** hPa over water: Magnus, constants of WMO-No. 8, Annex 4.B. */
    static double saturation(double celsius) {
        return 6.112 * StrictMath.exp(17.62 * celsius / (243.12 + celsius));
    }
}
