package io.evenwarm.agent.plant;

/**
 * What the plant's equations take as given; {@code docs/plant.md} has the equations.
 *
 * <p>[1] ideal gas, R = 287.05 J/kgK, 101325 Pa, 31.5 °C. [2] cp of dry air, from memory of any
 * heat transfer text. [3] EN ISO 6946, inner surface resistance 0.13 m²K/W, from memory. [4]
 * Epstein, "Buoyancy-driven exchange flow through small openings in horizontal partitions", J. Heat
 * Transfer 110 (1988) 885, from memory. [5] Brown and Solvason, "Natural convection through
 * rectangular openings in partitions", Int. J. Heat Mass Transfer 5 (1962) 859, from memory. [6]
 * Geankoplis, App. A.4: fresh egg 3.18 kJ/kgK; a food-heat-transfer text 3.32. [7] vermiculite 0.84
 * to 1.08 kJ/kgK and water 4.19 kJ/kgK, from memory. [8] our estimate, no source: chosen to be
 * plausible, and never used by guard or control.
 */
final class ThermalConstants {

    static final int LAYERS = 3;
    static final int BOTTOM = 0;
    static final int MIDDLE = 1;
    static final int TOP = 2;

    /** ρ cp of air: 1.159 kg/m³ [1] × 1006 J/kgK [2]. */
    static final double AIR_JOULES_PER_CUBIC_METRE_KELVIN = 1166;

    /** g/T at 31.5 °C: buoyancy of air that is 1 K warmer. */
    static final double BUOYANCY_METRES_PER_SECOND2_KELVIN = 9.81 / 304.65;

    /** What a small axial fan moves behind shelves and grilles: about half of its free flow [8]. */
    static final double FAN_CUBIC_METRES_PER_SECOND_WATT = 20.0 / 3600;

    /** Air to surface, fan running: [3] rounded up for moving air [8]. */
    static final double FILM_FORCED = 10;

    /** Air to surface, fan stopped: [3] less its share of draught [8]. */
    static final double FILM_STILL = 6.5;

    /**
     * Exchange between resting layers, the upper one warmer, W per K and m² of floor: mostly the
     * film of air that sinks along the walls [8].
     */
    static final double STILL_EXCHANGE = 12;

    /** Q = 0.055 (g ΔT/T)^½ D^2.5 through an opening of diameter D, the lower air warmer [4]. */
    static final double EXCHANGE_FLOW = 0.055;

    /** Q = C/3 w (g ΔT/T h³)^½ through an open door, C = 0.6 [5]. */
    static final double DOOR_FLOW = 0.6 / 3;

    /** How the air that enters by the door spreads over the layers: cold air falls in [8]. */
    private static final double[] DOOR_SHARE = {0.40, 0.35, 0.25};

    /** Draught that an open door lets in at no difference in temperature, m³/s for each m² [8]. */
    static final double DOOR_DRAUGHT = 0.02;

    /** Heat capacity of the inner part of the wall: 12 mm of plywood, or a lined foam wall [8]. */
    static final double WALL_JOULES_PER_SQUARE_METRE_KELVIN = 6000;

    /**
     * How much of the wall's resistance lies between the air's film and the wall's mass: heat of a
     * relay's cycle only reaches the lining [8].
     */
    static final double WALL_INNER_SHARE = 0.03;

    /** Heater: a silicone heating cable or mat, 4 to 6 g/W at about 1.1 J/gK [8]. */
    static final double HEATER_JOULES_PER_KELVIN_WATT = 5;

    /** Heater's surface above the air at full power, fan running [8]. */
    static final double HEATER_RISE_KELVIN = 50;

    /** How much less heat leaves the heater without the fan [8]. */
    static final double HEATER_STILL_SHARE = 0.5;

    /** Where the heater's heat goes: with the fan blowing up, and in its own plume [8]. */
    private static final double[] HEATER_SHARE_FORCED = {0.15, 0.25, 0.60};

    private static final double[] HEATER_SHARE_STILL = {0.05, 0.15, 0.80};

    /** Half eggs at 3.3 kJ/kgK [6], half medium of as much water as vermiculite: 2.6 kJ/kgK [7]. */
    static final double TUB_JOULES_PER_KILOGRAM_KELVIN = 2950;

    /** Wire shelves: 4 kg of steel on a square metre, at 0.49 kJ/kgK [2]; as much surface [8]. */
    static final double SHELF_JOULES_PER_SQUARE_METRE_KELVIN = 1960;

    /** A tub's plastic: a tenth of its mass [8], at 1.9 kJ/kgK (polypropylene, from memory). */
    static final double SHELL_JOULES_PER_KILOGRAM_KELVIN = 190;

    /** A tub's mean density, lid space included [8]. */
    static final double TUB_KILOGRAMS_PER_CUBIC_METRE = 600;

    /** A tub's surface over that of a cube of its volume [8]. */
    static final double TUB_SURFACE_FACTOR = 1.15;

    /** From a tub's plastic to its eggs: the air under the lid and 2.5 cm of damp medium [8]. */
    static final double TUB_INNER_SQUARE_METRE_KELVIN_PER_WATT = 0.10;

    /** Of the inner volume at least this share is air, whatever stands in it. */
    static final double LEAST_AIR_SHARE = 0.3;

    /** First-order lag of a thermometer in a steel tube, in moving and in resting air [8]. */
    static final double PROBE_LAG_FORCED_SECONDS = 30;

    static final double PROBE_LAG_STILL_SECONDS = 60;

    private ThermalConstants() {}

    static double doorShare(int layer) {
        return DOOR_SHARE[layer];
    }

    static double heaterShare(int layer, double flowShare) {
        return HEATER_SHARE_STILL[layer]
                + flowShare * (HEATER_SHARE_FORCED[layer] - HEATER_SHARE_STILL[layer]);
    }

    static double film(double flowShare) {
        return FILM_STILL + flowShare * (FILM_FORCED - FILM_STILL);
    }
}
