package io.evenwarm.monitor.thermal;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Random;
import org.apache.commons.math3.ode.FirstOrderDifferentialEquations;
import org.apache.commons.math3.ode.nonstiff.DormandPrince853Integrator;
import org.junit.jupiter.api.Test;

final class NetworkTest {

    /** Of one mass: (T − T∞)/(T₀ − T∞) at a time. */
    private static double left(double tauSeconds, double seconds) {
        return Network.exponential(new double[][] {{-1 / tauSeconds}}, seconds)[0][0];
    }

    /** Lienhard, A Heat Transfer Textbook: a lumped body's response. */
    @Test
    void aLumpedBodyKeepsWhatTheTextbookSays() {
        assertEquals(0.36788, left(1, 1), 1e-5);
        assertEquals(0.04979, left(1, 3), 1e-5);
        assertEquals(0.04979, left(7200, 3 * 7200), 1e-5);
    }

    /**
     * Incropera and DeWitt, example 5.1: from 25 to 199 °C in a gas of 200 °C, time constant 1 s.
     */
    @Test
    void aThermocoupleReachesItsEndAfterTheTimeOfTheTextbookExample() {
        assertEquals(199, 200 + (25 - 200) * left(1, 5.16), 0.01);
        assertEquals(1.0 / 175, left(1, Math.log(175)), 1e-12);
    }

    /** 10 kg of water, 4186 J/kgK, behind 1 W/K: 41,860 s. */
    @Test
    void waterCoolsWithTheTimeConstantOfItsHeat() {
        double tau = 10 * 4186 / 1.0;
        assertEquals(Math.exp(-1), left(tau, 41_860), 1e-9);
    }

    private static NetworkConstants drawn(Random random) {
        return new NetworkConstants(
                15 + 30 * random.nextDouble(),
                3 * random.nextDouble(),
                300 + 4000 * random.nextDouble(),
                2000 + 8000 * random.nextDouble(),
                3000 + 60_000 * random.nextDouble(),
                2000 + 10_000 * random.nextDouble(),
                0.5 + 0.4 * random.nextDouble(),
                0.6 + 0.4 * random.nextDouble());
    }

    /** Commons Math's eighth-order integrator, Hairer, Nørsett and Wanner's DOP853. */
    @Test
    void stepsAreThoseOfAnAdaptiveIntegrator() {
        for (int seed = 0; seed < 50; seed++) {
            Random random = new Random(seed);
            NetworkConstants of = drawn(random);
            boolean isFanOn = random.nextBoolean();
            double room = 10 + 15 * random.nextDouble();
            double power = 30 * random.nextDouble();
            double[] masses = {31, 20 + 10 * random.nextDouble(), 29};
            double[] expected = masses.clone();
            double[][] m = Network.matrix(of, isFanOn);
            FirstOrderDifferentialEquations equations =
                    new FirstOrderDifferentialEquations() {
                        @Override
                        public int getDimension() {
                            return Network.MASSES;
                        }

                        @Override
                        public void computeDerivatives(double t, double[] y, double[] slope) {
                            for (int i = 0; i < Network.MASSES; i++) {
                                slope[i] =
                                        m[i][0] * y[0]
                                                + m[i][1] * y[1]
                                                + m[i][2] * y[2]
                                                + m[i][Network.ROOM] * room
                                                + m[i][Network.POWER] * power;
                            }
                        }
                    };
            new DormandPrince853Integrator(1e-3, 600, 1e-11, 1e-11)
                    .integrate(equations, 0, expected, 7200, expected);
            Network network = new Network(of, isFanOn, 300);
            for (int step = 0; step < 24; step++) {
                network.advance(masses, room, power);
            }
            assertArrayEquals(expected, masses, 1e-7, "seed " + seed);
        }
    }

    @Test
    void atRestTheAirIsAsFarAboveTheRoomAsThePowerSays() {
        for (int seed = 0; seed < 20; seed++) {
            NetworkConstants of = drawn(new Random(seed));
            Network network = new Network(of, true, 86_400 * 30);
            double[] masses = {20, 20, 20};
            network.advance(masses, 18, 13.5);
            assertEquals(18 + 13.5, masses[Network.AIR], 1e-6, "seed " + seed);
            assertEquals(18 + 13.5, masses[Network.EGG], 1e-6, "seed " + seed);
        }
    }

    /** What went in less what went out is what the masses hold more. */
    @Test
    void heatIsNeitherMadeNorLost() {
        for (int seed = 0; seed < 20; seed++) {
            Random random = new Random(seed);
            NetworkConstants of = drawn(random);
            boolean isFanOn = random.nextBoolean();
            Network network = new Network(of, isFanOn, 1);
            double outer = Network.WALL_HOLD / (Network.WALL_HOLD - 1);
            double[] masses = {31, 25, 30};
            double before = held(of, masses);
            double in = 0;
            for (int second = 0; second < 3600; second++) {
                double wall = masses[Network.WALL];
                network.advance(masses, 15, 20);
                in += 20 - outer * ((wall + masses[Network.WALL]) / 2 - 15);
            }
            assertEquals(in, held(of, masses) - before, 1e-3 * Math.abs(in), "seed " + seed);
        }
    }

    private static double held(NetworkConstants of, double[] masses) {
        return of.airSeconds() * masses[Network.AIR]
                + of.wallSeconds() * masses[Network.WALL]
                + of.eggSeconds() * masses[Network.EGG];
    }
}
