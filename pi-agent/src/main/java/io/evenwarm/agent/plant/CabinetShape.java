package io.evenwarm.agent.plant;

/**
 * The inside of a cabinet as a box of fixed proportions, 1 wide : 0.8 deep : 1.6 high.
 *
 * @param widthMetres inner width
 */
record CabinetShape(double widthMetres) {

    private static final double DEEP = 0.8;
    private static final double HIGH = 1.6;

    static CabinetShape of(double volumeLitres) {
        return new CabinetShape(StrictMath.cbrt(volumeLitres / 1000 / (DEEP * HIGH)));
    }

    double heightMetres() {
        return HIGH * widthMetres;
    }

    double floorSquareMetres() {
        return DEEP * widthMetres * widthMetres;
    }

    private double sidesSquareMetres() {
        return 2 * HIGH * (1 + DEEP) * widthMetres * widthMetres;
    }

    double wallSquareMetres() {
        return 2 * floorSquareMetres() + sidesSquareMetres();
    }

    /** The wall that a layer touches: a third of the sides, and the floor or the ceiling. */
    double wallSquareMetres(int layer) {
        double sides = sidesSquareMetres() / 3;
        return layer == ThermalConstants.MIDDLE ? sides : sides + floorSquareMetres();
    }
}
