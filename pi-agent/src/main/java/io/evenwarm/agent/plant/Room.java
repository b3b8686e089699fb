package io.evenwarm.agent.plant;

/**
 * The room's temperature: a mean and a daily swing, the hour of the day at the start drawn from the
 * seed. Straight lines of ten minutes stand for the sine: within 0.0003 of the swing.
 */
final class Room {

    private static final double DAY_SECONDS = 86_400;
    private static final double KNOT_SECONDS = 600;

    private final double meanCelsius;
    private final double swingKelvin;
    private final double startOfDay;
    private double knotSeconds = Double.NEGATIVE_INFINITY;
    private double knotCelsius;
    private double slope;

    /**
     * @param startOfDay which part of the day the run starts in, 0 to 1; at 0 the room is at its
     *     mean and warming
     */
    Room(CabinetBuild build, double startOfDay) {
        this.meanCelsius = build.ambientCelsius();
        this.swingKelvin = build.ambientSwingKelvin();
        this.startOfDay = startOfDay;
    }

    /** At a time since the start; times must not go back. */
    double celsius(double seconds) {
        if (!(seconds < knotSeconds + KNOT_SECONDS)) {
            knotSeconds = StrictMath.floor(seconds / KNOT_SECONDS) * KNOT_SECONDS;
            knotCelsius = exact(knotSeconds);
            slope = (exact(knotSeconds + KNOT_SECONDS) - knotCelsius) / KNOT_SECONDS;
        }
        return knotCelsius + slope * (seconds - knotSeconds);
    }

    private double exact(double seconds) {
        return meanCelsius
                + swingKelvin
                        * StrictMath.sin(2 * StrictMath.PI * (seconds / DAY_SECONDS + startOfDay));
    }
}
