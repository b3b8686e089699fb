package io.evenwarm.agent.plant;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.EigenDecomposition;
import org.junit.jupiter.api.Test;

/** Against the eigenvalues of Commons Math. */
final class EggTimeConstantTest {

    @Test
    void itIsThatOfTheSlowerOfTheTwoMassesBehindTheAir() {
        for (double litres : new double[] {60, 250, 900}) {
            CabinetBuild build = CabinetBuild.ofVolume(litres, 1, 2);
            ThermalParts parts = new ThermalParts(build);
            for (double flow : new double[] {0, 0.5, 1}) {
                double shell = parts.fittingsToAir(flow);
                double inner = parts.tubToFittings();
                double[] slopes =
                        new EigenDecomposition(
                                        new Array2DRowRealMatrix(
                                                new double[][] {
                                                    {
                                                        -(shell + inner) / parts.fittingsCapacity(),
                                                        inner / parts.fittingsCapacity()
                                                    },
                                                    {
                                                        inner / parts.tubCapacity(),
                                                        -inner / parts.tubCapacity()
                                                    }
                                                }))
                                .getRealEigenvalues();
                double slower = Math.max(slopes[0], slopes[1]);
                assertEquals(
                        -1 / slower,
                        new CabinetPhysics(build).eggTimeConstantSeconds(flow),
                        1e-6 / -slower);
            }
        }
    }
}
