package io.evenwarm.agent.plant;

/**
 * What a simulated cabinet's temperatures really are, as no probe shows them. For verdicts and
 * tests only. Temperatures in °C; a layer's tubs stand for the eggs in them.
 *
 * @param heaterWatts heat that the heater makes now
 * @param heaterCelsius the heater itself
 * @param flowShare the fan's flow as a share of its full flow
 */
public record PlantTruth(
        double topAirCelsius,
        double middleAirCelsius,
        double bottomAirCelsius,
        double topTubCelsius,
        double middleTubCelsius,
        double bottomTubCelsius,
        double heaterWatts,
        double heaterCelsius,
        double flowShare,
        double ambientCelsius) {

    public double warmestAirCelsius() {
        return Math.max(topAirCelsius, Math.max(middleAirCelsius, bottomAirCelsius));
    }

    public double coldestAirCelsius() {
        return Math.min(topAirCelsius, Math.min(middleAirCelsius, bottomAirCelsius));
    }

    public double warmestTubCelsius() {
        return Math.max(topTubCelsius, Math.max(middleTubCelsius, bottomTubCelsius));
    }

    public double coldestTubCelsius() {
        return Math.min(topTubCelsius, Math.min(middleTubCelsius, bottomTubCelsius));
    }

    public double meanAirCelsius() {
        return (topAirCelsius + middleAirCelsius + bottomAirCelsius) / 3;
    }
}
