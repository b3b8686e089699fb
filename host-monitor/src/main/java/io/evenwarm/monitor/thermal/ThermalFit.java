package io.evenwarm.monitor.thermal;

/**
 * A cabinet's thermal model as its history tells it. Immutable.
 *
 * @param constants the most likely ones, known or not: for what follows from all of them together
 * @param lossPerPower heat loss over the heater's power, 1/K: the share of the time that the heater
 *     must be on for each kelvin above the room
 * @param lossWattsPerKelvin heat loss, W/K
 * @param eggTimeConstantSeconds how slowly the eggs follow the air, fan running
 * @param heldOut how well the model foretells days that it was not fitted to
 */
public record ThermalFit(
        NetworkConstants constants,
        Figure lossPerPower,
        Figure lossWattsPerKelvin,
        Figure eggTimeConstantSeconds,
        HeldOut heldOut,
        Uncertainty uncertainty) {

    /**
     * How far the air was from what the model made of heater and room alone over days it was not
     * fitted to, its state taken from the readings at each midnight.
     *
     * @param days how many; 0 where the history is too short to hold any out
     * @param rootMeanSquareKelvin over all steps of these days; NaN where there are none
     * @param worstKelvin the farthest; NaN where there are none
     */
    public record HeldOut(int days, double rootMeanSquareKelvin, double worstKelvin) {}
}
