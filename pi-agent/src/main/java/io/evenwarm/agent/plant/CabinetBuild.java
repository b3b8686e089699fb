package io.evenwarm.agent.plant;

/**
 * What a simulated cabinet is made of and where it stands.
 *
 * @param volumeLitres inner volume; 20 to 2000 L
 * @param heatLossWattsPerKelvin heat lost through the walls for each kelvin that the air is warmer
 *     than the room, fan running; above 0 and at most 4 W/m²K times the wall's area
 * @param heaterWatts rated power of the heater; above 0 to 5000 W
 * @param fanWatts what the circulation fan takes, all of which ends as heat in the air; 0 to 100 W
 * @param tubs tubs of damp medium with eggs, spread evenly over the three shelf layers; 0 to 1000
 * @param tubKilograms mass of one tub with all that is in it; above 0 to 20 kg
 * @param ambientCelsius mean of the room; −30 to 50 °C
 * @param ambientSwingKelvin how far the room goes above and below its mean each day; 0 to 20 K
 * @param startCelsius everything in the cabinet at the start; −30 to 60 °C
 * @param noiseKelvin standard deviation of a thermometer's noise before it rounds; 0 to 1 K
 */
public record CabinetBuild(
        double volumeLitres,
        double heatLossWattsPerKelvin,
        double heaterWatts,
        double fanWatts,
        int tubs,
        double tubKilograms,
        double ambientCelsius,
        double ambientSwingKelvin,
        double startCelsius,
        double noiseKelvin) {

    /** A room in winter, for which a heater is sized. */
    public static final double COLD_ROOM_CELSIUS = 12;

    private static final double USUAL_SET_POINT_CELSIUS = 31.5;
    private static final double LITRES_PER_TUB = 25;
    private static final double STEEPEST_WALL = 4;

    public CabinetBuild {
        require("volume", volumeLitres, 20, 2000, "L");
        require("heater", heaterWatts, 0.1, 5000, "W");
        require("fan", fanWatts, 0, 100, "W");
        require("tubs", tubs, 0, 1000, "tubs");
        require("tub mass", tubKilograms, 0.01, 20, "kg");
        require("ambient", ambientCelsius, -30, 50, "°C");
        require("ambient swing", ambientSwingKelvin, 0, 20, "K");
        require("start", startCelsius, -30, 60, "°C");
        require("noise", noiseKelvin, 0, 1, "K");
        require("heat loss", heatLossWattsPerKelvin, 0.01, mostHeatLoss(volumeLitres), "W/K");
    }

    /** The most heat that a cabinet of this volume may lose, W/K. */
    public static double mostHeatLoss(double volumeLitres) {
        return STEEPEST_WALL * CabinetShape.of(volumeLitres).wallSquareMetres();
    }

    /**
     * A cabinet of usual proportions with a fan and tubs to match, in a room of 22 ± 4 °C, at 21
     * °C.
     *
     * @param volumeLitres inner volume, L
     * @param wallWattsPerSquareMetreKelvin heat loss of a square metre of wall, W/m²K
     * @param heaterFactor heater's power as a multiple of what holds 31.5 °C in a room of 12 °C
     */
    public static CabinetBuild ofVolume(
            double volumeLitres, double wallWattsPerSquareMetreKelvin, double heaterFactor) {
        double lossWattsPerKelvin =
                wallWattsPerSquareMetreKelvin * CabinetShape.of(volumeLitres).wallSquareMetres();
        double holdingWatts = lossWattsPerKelvin * (USUAL_SET_POINT_CELSIUS - COLD_ROOM_CELSIUS);
        double linear = StrictMath.cbrt(volumeLitres / 250);
        return new CabinetBuild(
                volumeLitres,
                lossWattsPerKelvin,
                heaterFactor * holdingWatts,
                3 * linear * linear,
                (int) StrictMath.max(1, StrictMath.rint(volumeLitres / LITRES_PER_TUB)),
                1.5,
                22,
                4,
                21,
                0.015);
    }

    public CabinetBuild withTubs(int count, double kilogramsEach) {
        return new CabinetBuild(
                volumeLitres,
                heatLossWattsPerKelvin,
                heaterWatts,
                fanWatts,
                count,
                kilogramsEach,
                ambientCelsius,
                ambientSwingKelvin,
                startCelsius,
                noiseKelvin);
    }

    public CabinetBuild withAmbient(double meanCelsius, double swingKelvin) {
        return new CabinetBuild(
                volumeLitres,
                heatLossWattsPerKelvin,
                heaterWatts,
                fanWatts,
                tubs,
                tubKilograms,
                meanCelsius,
                swingKelvin,
                startCelsius,
                noiseKelvin);
    }

    public CabinetBuild withStart(double celsius) {
        return new CabinetBuild(
                volumeLitres,
                heatLossWattsPerKelvin,
                heaterWatts,
                fanWatts,
                tubs,
                tubKilograms,
                ambientCelsius,
                ambientSwingKelvin,
                celsius,
                noiseKelvin);
    }

    public CabinetBuild withNoise(double kelvin) {
        return new CabinetBuild(
                volumeLitres,
                heatLossWattsPerKelvin,
                heaterWatts,
                fanWatts,
                tubs,
                tubKilograms,
                ambientCelsius,
                ambientSwingKelvin,
                startCelsius,
                kelvin);
    }

    public CabinetBuild withFan(double watts) {
        return new CabinetBuild(
                volumeLitres,
                heatLossWattsPerKelvin,
                heaterWatts,
                watts,
                tubs,
                tubKilograms,
                ambientCelsius,
                ambientSwingKelvin,
                startCelsius,
                noiseKelvin);
    }

    private static void require(String what, double value, double min, double max, String unit) {
        if (!(value >= min && value <= max)) {
            throw new IllegalArgumentException(
                    what + " must be " + min + " to " + max + " " + unit + " but was " + value);
        }
    }
}
