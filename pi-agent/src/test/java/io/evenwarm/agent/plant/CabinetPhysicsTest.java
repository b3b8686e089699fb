package io.evenwarm.agent.plant;

import static io.evenwarm.agent.plant.ThermalConstants.BOTTOM;
import static io.evenwarm.agent.plant.ThermalConstants.MIDDLE;
import static io.evenwarm.agent.plant.ThermalConstants.TOP;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Locale;
import org.apache.commons.math3.ode.FirstOrderDifferentialEquations;
import org.apache.commons.math3.ode.nonstiff.DormandPrince853Integrator;
import org.junit.jupiter.api.Test;

final class CabinetPhysicsTest {

    private static final int AIR = 0;
    private static final int WALL = 3;
    private static final int TUB = 6;
    private static final int FITTINGS = 9;
    private static final int HEATER = 12;

    /** What docs/plant.md states. */
    private static final double BOUND_KELVIN = 0.002;

    private static final double STRATIFIED_BOUND_KELVIN = 0.002;

    private static final double OPEN_DOOR_BOUND_KELVIN = 0.1;

    /** The smallest cabinets, and the strongest fan that fits: the stiffest networks. */
    @Test
    void aStepStaysWithinItsBoundOfAnAdaptiveIntegrator() {
        CabinetBuild eighty = CabinetBuild.ofVolume(80, 1.0, 4);
        CabinetBuild twenty = CabinetBuild.ofVolume(20, 1.4, 5).withFan(6);
        CabinetBuild empty = CabinetBuild.ofVolume(60, 0.4, 1.5).withTubs(0, 1);
        for (CabinetBuild build : new CabinetBuild[] {eighty, twenty, empty}) {
            double worst = worstDifference(build, 1, false, 1);
            print(build, "fan on", worst);
            assertTrue(worst < BOUND_KELVIN, build + " is off by " + worst + " K");
        }
    }

    @Test
    void aStepStaysWithinItsBoundWithoutFanAndWithTheDoorOpen() {
        CabinetBuild eighty = CabinetBuild.ofVolume(80, 1.0, 4);
        double still = worstDifference(eighty, 0, false, 1);
        print(eighty, "fan off", still);
        assertTrue(still < STRATIFIED_BOUND_KELVIN, "fan off: " + still + " K");
        double open = worstDifference(eighty, 1, true, 1);
        print(eighty, "door open", open);
        assertTrue(open < OPEN_DOOR_BOUND_KELVIN, "door open: " + open + " K");
    }

    @Test
    void theErrorFallsWithTheSquareOfTheStep() {
        CabinetBuild build = CabinetBuild.ofVolume(250, 1.0, 3);
        double whole = worstDifference(build, 1, false, 1);
        double half = worstDifference(build, 1, false, 0.5);
        assertTrue(half < whole / 3, "1 s: " + whole + " K, 0.5 s: " + half + " K");
    }

    /**
     * Newton cooling against its closed form, (T − T∞)/(Ti − T∞) = exp(−t/τ): Lienhard, A Heat
     * Transfer Textbook, lumped-capacity response: 0.36788 at τ and 0.04979 at 3 τ. Walls that lose
     * so little, around so many tubs, leave one lump (Biot number about 0.001); the walls' mass
     * lies at 97 % of the difference and counts by that.
     */
    @Test
    void aWellInsulatedCabinetCoolsAsNewtonSays() {
        double loss = 0.02;
        CabinetBuild build = new CabinetBuild(80, loss, 50, 3, 40, 5, 0, 0, 30, 0);
        ThermalParts parts = new ThermalParts(build);
        double capacity =
                parts.heaterCapacity()
                        + 3
                                * (parts.airCapacity()
                                        + parts.fittingsCapacity()
                                        + parts.tubCapacity());
        for (int i = 0; i < 3; i++) {
            capacity += parts.wallCapacity(i) * (1 - ThermalConstants.WALL_INNER_SHARE);
        }
        double tau = capacity / loss;
        double step = 1000;
        CabinetPhysics physics = new CabinetPhysics(build, step);
        double seconds = 0;
        double[] at = {1, 3};
        for (double taus : at) {
            while (seconds < taus * tau) {
                physics.step(0, 0, 1, false, 0);
                seconds += step;
            }
            assertEquals(
                    StrictMath.exp(-seconds / tau),
                    physics.airCelsius(MIDDLE) / 30,
                    1e-3,
                    taus + " τ");
        }
    }

    /** Steady: heater and fan together make what UA ΔT loses. */
    @Test
    void atRestTheHeatMadeIsTheHeatLost() {
        CabinetBuild build = CabinetBuild.ofVolume(250, 0.9, 3);
        CabinetPhysics physics = new CabinetPhysics(build, 30);
        double watts = 40;
        for (int i = 0; i < 20_000; i++) {
            physics.step(watts, build.fanWatts(), 1, false, 12);
        }
        assertEquals(watts + build.fanWatts(), physics.wallLossWatts(12), 1e-6);
        double air = 0;
        double area = 0;
        CabinetShape shape = CabinetShape.of(250);
        for (int i = 0; i < 3; i++) {
            air += physics.airCelsius(i) * shape.wallSquareMetres(i);
            area += shape.wallSquareMetres(i);
        }
        double loss = build.heatLossWattsPerKelvin() * (air / area - 12);
        assertEquals(watts + build.fanWatts(), loss, 1e-6);
    }

    /** Every joule that goes in is found again in the masses or went through the walls. */
    @Test
    void noHeatIsMadeOrLostByTheArithmetic() {
        CabinetBuild build = CabinetBuild.ofVolume(80, 1.0, 3);
        ThermalParts parts = new ThermalParts(build);
        CabinetPhysics physics = new CabinetPhysics(build);
        double before = content(physics, parts);
        double lost = 0;
        for (int i = 0; i < 7200; i++) {
            double lossBefore = physics.wallLossWatts(build.startCelsius());
            physics.step(50, 2, 1, false, build.startCelsius());
            lost += 0.5 * (lossBefore + physics.wallLossWatts(build.startCelsius()));
        }
        assertEquals(7200 * 52.0, content(physics, parts) - before + lost, 20);
    }

    private static double content(CabinetPhysics physics, ThermalParts parts) {
        double joules = parts.heaterCapacity() * physics.heaterCelsius();
        for (int i = 0; i < 3; i++) {
            joules +=
                    parts.airCapacity() * physics.airCelsius(i)
                            + parts.wallCapacity(i) * physics.wallCelsius(i)
                            + parts.fittingsCapacity() * physics.fittingsCelsius(i)
                            + parts.tubCapacity() * physics.tubCelsius(i);
        }
        return joules;
    }

    @Test
    void withoutItsFanACabinetIsWarmAboveAndColdBelow() {
        for (double volume : new double[] {80, 250, 700}) {
            CabinetBuild build = CabinetBuild.ofVolume(volume, 1.0, 3);
            double mixed = topOverBottom(build, 1);
            double parted = topOverBottom(build, 0);
            assertTrue(mixed < 1.0, volume + " L, fan on: " + mixed);
            assertTrue(parted > 2.5 && parted < 15, volume + " L, fan off: " + parted);
        }
    }

    /**
     * Heated from below by a warm floor of tubs, resting air turns over and parts only a little.
     */
    @Test
    void airThatIsWarmerBelowRises() {
        ThermalParts parts = new ThermalParts(CabinetBuild.ofVolume(80, 1.0, 3));
        assertTrue(parts.layerExchange(0, 1) > 1.5 * parts.layerExchange(0, -1));
        assertEquals(parts.layerExchange(0, 0), parts.layerExchange(0, -5), 0);
    }

    private static double topOverBottom(CabinetBuild build, double flow) {
        CabinetPhysics physics = new CabinetPhysics(build, 10);
        double watts = build.heatLossWattsPerKelvin() * 10;
        for (int i = 0; i < 8640; i++) {
            physics.step(watts, 0, flow, false, 21.5);
        }
        return physics.airCelsius(TOP) - physics.airCelsius(BOTTOM);
    }

    private static void print(CabinetBuild build, String how, double worst) {
        System.out.printf(
                Locale.ROOT,
                "plant step against DormandPrince853, %.0f L, %s: at most %.5f K off%n",
                build.volumeLitres(),
                how,
                worst);
    }

    /** Two hours from cold, heater switched every minute, compared at each switching. */
    private static double worstDifference(
            CabinetBuild build, double flow, boolean open, double stepSeconds) {
        CabinetPhysics physics = new CabinetPhysics(build, stepSeconds);
        Network network = new Network(build, flow, open);
        DormandPrince853Integrator reference =
                new DormandPrince853Integrator(1e-6, 60, 1e-10, 1e-10);
        double[] state = new double[network.getDimension()];
        java.util.Arrays.fill(state, build.startCelsius());
        double worst = 0;
        for (int minute = 0; minute < 120; minute++) {
            network.watts = minute % 2 == 0 ? build.heaterWatts() : 0;
            // Also in between, where the switching has just been felt.
            for (int part = 0; part < 12; part++) {
                reference.integrate(network, part * 5.0, state, part * 5.0 + 5, state);
                for (int i = 0; i < Math.rint(5 / stepSeconds); i++) {
                    physics.step(
                            network.watts, build.fanWatts() * flow, flow, open, network.ambient);
                }
                worst = Math.max(worst, difference(physics, state));
            }
        }
        return worst;
    }

    private static double difference(CabinetPhysics physics, double[] state) {
        double worst = 0;
        for (int i = 0; i < 3; i++) {
            worst = Math.max(worst, Math.abs(physics.airCelsius(i) - state[AIR + i]));
            worst = Math.max(worst, Math.abs(physics.wallCelsius(i) - state[WALL + i]));
            worst = Math.max(worst, Math.abs(physics.fittingsCelsius(i) - state[FITTINGS + i]));
            worst = Math.max(worst, Math.abs(physics.tubCelsius(i) - state[TUB + i]));
        }
        return worst;
    }

    /** The equations of docs/plant.md, written down as they stand there. */
    private static final class Network implements FirstOrderDifferentialEquations {

        private final ThermalParts parts;
        private final CabinetBuild build;
        private final double flow;
        private final boolean open;
        private final double ambient = 12;
        private double watts;

        Network(CabinetBuild build, double flow, boolean open) {
            this.build = build;
            this.parts = new ThermalParts(build);
            this.flow = flow;
            this.open = open;
        }

        @Override
        public int getDimension() {
            return 13;
        }

        @Override
        public void computeDerivatives(double t, double[] y, double[] dot) {
            double mean = (y[AIR + BOTTOM] + y[AIR + MIDDLE] + y[AIR + TOP]) / 3;
            double door = open ? parts.doorExchange(mean - ambient) : 0;
            double[] into = new double[3];
            double heater = watts;
            for (int i = 0; i < 3; i++) {
                double fromWall = parts.wallToAir(i, flow) * (y[WALL + i] - y[AIR + i]);
                double fromFittings = parts.fittingsToAir(flow) * (y[FITTINGS + i] - y[AIR + i]);
                double fromTub = parts.tubToFittings() * (y[TUB + i] - y[FITTINGS + i]);
                double fromHeater = parts.heaterToAir(i, flow) * (y[HEATER] - y[AIR + i]);
                double fromDoor = door * ThermalConstants.doorShare(i) * (ambient - y[AIR + i]);
                into[i] = fromWall + fromFittings + fromHeater + fromDoor;
                heater -= fromHeater;
                dot[WALL + i] =
                        (parts.wallToRoom(i) * (ambient - y[WALL + i]) - fromWall)
                                / parts.wallCapacity(i);
                dot[FITTINGS + i] = (fromTub - fromFittings) / parts.fittingsCapacity();
                dot[TUB + i] = -fromTub / parts.tubCapacity();
            }
            for (int i = 0; i < 2; i++) {
                double lowerIsWarmerBy = y[AIR + i] - y[AIR + i + 1];
                double up = parts.layerExchange(flow, lowerIsWarmerBy) * lowerIsWarmerBy;
                into[i] -= up;
                into[i + 1] += up;
            }
            into[TOP] += build.fanWatts() * flow;
            for (int i = 0; i < 3; i++) {
                dot[AIR + i] = into[i] / parts.airCapacity();
            }
            dot[HEATER] = heater / parts.heaterCapacity();
        }
    }
}
