package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plant.CabinetBuild;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;

/**
 * The same story in another cabinet: what a scenario says is moved a little by its seed, so that a
 * verdict does not hang on numbers that nobody knows so well.
 *
 * <p>Moved are: volume, heat loss, heater, fan, number and mass of the tubs; the room's mean by up
 * to 1 K and its swing; the noise; two short looks inside each day; each fault's time, length and
 * severity. Set point, limits, probes and what is fitted stay.
 */
public final class Variation {

    private static final double CONSTANTS = 1.25;
    private static final double LOAD = 1.5;
    private static final double ROOM_KELVIN = 1;
    private static final double MOST_NOISE_KELVIN = 0.03;
    private static final double TIMES = 0.1;
    private static final double LENGTHS = 1.25;
    private static final double SEVERITIES = 1.2;
    private static final double STEEPEST_WALL_SHARE = 0.99;

    private Variation() {}

    /** The variation of a scenario that belongs to a seed. */
    public static Scenario of(Scenario scenario, long seed) {
        Draw draw = new Draw(seed, "variation");
        Scenario.Cabinet cabinet = scenario.cabinet();
        CabinetBuild build = build(cabinet.build(), draw);
        List<Scenario.TimedFault> faults = new ArrayList<>();
        for (Scenario.TimedFault fault : scenario.faults()) {
            faults.add(fault(fault, draw));
        }
        return new Scenario(
                seed,
                scenario.durationSeconds(),
                cabinet.withBuild(build),
                faults,
                Catalogue.openings(seed, scenario.durationSeconds()));
    }

    private static double moved(Draw draw, double value, double factor) {
        return value * draw.evenlyInRatio(1 / factor, factor);
    }

    private static double within(double value, double least, double most) {
        return StrictMath.max(least, StrictMath.min(most, value));
    }

    private static CabinetBuild build(CabinetBuild build, Draw draw) {
        double volume = within(moved(draw, build.volumeLitres(), CONSTANTS), 20, 2000);
        double steepest = STEEPEST_WALL_SHARE * CabinetBuild.mostHeatLoss(volume);
        int tubs = (int) StrictMath.rint(moved(draw, build.tubs(), LOAD));
        return new CabinetBuild(
                volume,
                within(moved(draw, build.heatLossWattsPerKelvin(), CONSTANTS), 0.01, steepest),
                within(moved(draw, build.heaterWatts(), CONSTANTS), 0.1, 5000),
                within(moved(draw, build.fanWatts(), CONSTANTS), 0, 100),
                (int) within(tubs, build.tubs() == 0 ? 0 : 1, 1000),
                within(moved(draw, build.tubKilograms(), CONSTANTS), 0.01, 20),
                within(build.ambientCelsius() + draw.between(-ROOM_KELVIN, ROOM_KELVIN), -30, 50),
                within(moved(draw, build.ambientSwingKelvin(), LOAD), 0, 20),
                build.startCelsius(),
                draw.between(0, MOST_NOISE_KELVIN));
    }

    private static Scenario.TimedFault fault(Scenario.TimedFault fault, Draw draw) {
        double at = StrictMath.rint(fault.atSeconds() * draw.between(1 - TIMES, 1 + TIMES));
        OptionalDouble lasting =
                fault.forSeconds().isPresent()
                        ? OptionalDouble.of(
                                StrictMath.max(
                                        1,
                                        StrictMath.rint(
                                                moved(
                                                        draw,
                                                        fault.forSeconds().getAsDouble(),
                                                        LENGTHS))))
                        : OptionalDouble.empty();
        return new Scenario.TimedFault(at, lasting, moved(fault, draw));
    }

    private static Mishap moved(Scenario.TimedFault fault, Draw draw) {
        FaultKind kind = fault.kind();
        OptionalDouble number = FaultKind.number(fault.what());
        if (number.isEmpty()) {
            return fault.what();
        }
        double other = moved(draw, number.getAsDouble(), SEVERITIES);
        try {
            return kind.make(new FaultKeys(fault.probe(), fault.otherProbe(), other, false));
        } catch (IllegalArgumentException e) {
            // It stood near the end of what is allowed.
            return fault.what();
        }
    }
}
