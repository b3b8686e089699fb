package io.evenwarm.agent.plant;

import static io.evenwarm.agent.plant.ThermalConstants.AIR_JOULES_PER_CUBIC_METRE_KELVIN;
import static io.evenwarm.agent.plant.ThermalConstants.LAYERS;

/**
 * The capacities (J/K) and conductances (W/K) that a build has by {@link ThermalConstants}. Flow is
 * the fan's, as a share of its full flow.
 */
final class ThermalParts {

    private final double airCapacity;
    private final double tubCapacity;
    private final double fittingsCapacity;
    private final double fittingsSquareMetres;
    private final double heaterCapacity;
    private final double[] wallSquareMetres = new double[LAYERS];
    private final double wallOuterResistance;
    private final double wallInnerResistance;
    private final double tubSquareMetres;
    private final double heaterForced;
    private final double fanExchange;
    private final double stillExchange;
    private final double risingExchange;
    private final double doorBuoyant;
    private final double doorDraught;

    ThermalParts(CabinetBuild build) {
        CabinetShape shape = CabinetShape.of(build.volumeLitres());
        double cubicMetres = build.volumeLitres() / 1000;
        double tubVolume = build.tubKilograms() / ThermalConstants.TUB_KILOGRAMS_PER_CUBIC_METRE;
        double airShare =
                Math.max(
                        ThermalConstants.LEAST_AIR_SHARE,
                        1 - build.tubs() * tubVolume / cubicMetres);
        double tubsInLayer = (double) build.tubs() / LAYERS;
        airCapacity = AIR_JOULES_PER_CUBIC_METRE_KELVIN * cubicMetres * airShare / LAYERS;
        // Without tubs the node stays, tied to nothing; any capacity will do.
        tubCapacity =
                Math.max(
                        1,
                        tubsInLayer
                                * build.tubKilograms()
                                * ThermalConstants.TUB_JOULES_PER_KILOGRAM_KELVIN);
        double edge = StrictMath.cbrt(tubVolume);
        tubSquareMetres = tubsInLayer * 6 * edge * edge * ThermalConstants.TUB_SURFACE_FACTOR;
        fittingsCapacity =
                shape.floorSquareMetres() * ThermalConstants.SHELF_JOULES_PER_SQUARE_METRE_KELVIN
                        + tubsInLayer
                                * build.tubKilograms()
                                * ThermalConstants.SHELL_JOULES_PER_KILOGRAM_KELVIN;
        fittingsSquareMetres = shape.floorSquareMetres() + tubSquareMetres;
        heaterCapacity = build.heaterWatts() * ThermalConstants.HEATER_JOULES_PER_KELVIN_WATT;
        heaterForced = build.heaterWatts() / ThermalConstants.HEATER_RISE_KELVIN;
        for (int i = 0; i < LAYERS; i++) {
            wallSquareMetres[i] = shape.wallSquareMetres(i);
        }
        double material =
                shape.wallSquareMetres() / build.heatLossWattsPerKelvin()
                        - 1 / ThermalConstants.FILM_FORCED;
        wallInnerResistance = ThermalConstants.WALL_INNER_SHARE * material;
        wallOuterResistance = material - wallInnerResistance;
        fanExchange =
                AIR_JOULES_PER_CUBIC_METRE_KELVIN
                        * ThermalConstants.FAN_CUBIC_METRES_PER_SECOND_WATT
                        * build.fanWatts();
        stillExchange = ThermalConstants.STILL_EXCHANGE * shape.floorSquareMetres();
        double opening = StrictMath.sqrt(4 * shape.floorSquareMetres() / StrictMath.PI);
        risingExchange =
                AIR_JOULES_PER_CUBIC_METRE_KELVIN
                        * ThermalConstants.EXCHANGE_FLOW
                        * StrictMath.sqrt(ThermalConstants.BUOYANCY_METRES_PER_SECOND2_KELVIN)
                        * opening
                        * opening
                        * StrictMath.sqrt(opening);
        double high = shape.heightMetres();
        doorBuoyant =
                AIR_JOULES_PER_CUBIC_METRE_KELVIN
                        * ThermalConstants.DOOR_FLOW
                        * shape.widthMetres()
                        * StrictMath.sqrt(
                                ThermalConstants.BUOYANCY_METRES_PER_SECOND2_KELVIN
                                        * high
                                        * high
                                        * high);
        doorDraught =
                AIR_JOULES_PER_CUBIC_METRE_KELVIN
                        * ThermalConstants.DOOR_DRAUGHT
                        * shape.widthMetres()
                        * high;
    }

    /** Of one layer. */
    double airCapacity() {
        return airCapacity;
    }

    /** Of one layer's tubs together. */
    double tubCapacity() {
        return tubCapacity;
    }

    double fittingsCapacity() {
        return fittingsCapacity;
    }

    double heaterCapacity() {
        return heaterCapacity;
    }

    double wallCapacity(int layer) {
        return wallSquareMetres[layer] * ThermalConstants.WALL_JOULES_PER_SQUARE_METRE_KELVIN;
    }

    double wallToRoom(int layer) {
        return wallSquareMetres[layer] / wallOuterResistance;
    }

    double wallToAir(int layer, double flow) {
        return wallSquareMetres[layer] / (1 / ThermalConstants.film(flow) + wallInnerResistance);
    }

    /** One layer's shelf and its tubs' plastic. */
    double fittingsToAir(double flow) {
        return fittingsSquareMetres * ThermalConstants.film(flow);
    }

    double tubToFittings() {
        return tubSquareMetres / ThermalConstants.TUB_INNER_SQUARE_METRE_KELVIN_PER_WATT;
    }

    double heaterToAir(int layer, double flow) {
        double still = ThermalConstants.HEATER_STILL_SHARE;
        return heaterForced
                * (still + (1 - still) * flow)
                * ThermalConstants.heaterShare(layer, flow);
    }

    /**
     * Between two neighbouring layers: the fan's flow, the resting exchange, and, where the lower
     * air is the warmer, its rising.
     *
     * @param lowerIsWarmerByKelvin may be negative
     */
    double layerExchange(double flow, double lowerIsWarmerByKelvin) {
        double exchange = fanExchange * flow + stillExchange;
        return lowerIsWarmerByKelvin > 0
                ? exchange + risingExchange * Math.sqrt(lowerIsWarmerByKelvin)
                : exchange;
    }

    /** All the air that an open door exchanges with the room. */
    double doorExchange(double warmerByKelvin) {
        return doorDraught + doorBuoyant * Math.sqrt(Math.abs(warmerByKelvin));
    }
}
