package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * That it measures what it says. How fast a tick is, the command shows; a test must not judge it.
 */
final class TickBenchmarkTest {

    @Test
    void printsBareStepCabinetAndTickForThreeAndFourProbes() throws IOException {
        long[] now = {0};
        StringBuilder out = new StringBuilder();
        // A clock on which every round takes 1 ms: the figures are the rounds' lengths.
        List<TickBenchmark.Figures> figures =
                TickBenchmark.run(() -> now[0] += 1_000_000, out, 0.001);
        assertEquals(2, figures.size());
        TickBenchmark.Figures three = figures.get(0);
        assertEquals(3, three.probes());
        assertEquals(1_000_000.0 / 1000, three.bareStepNanos());
        assertEquals(1_000_000.0 / 500, three.cabinetStepNanos());
        assertEquals(1_000_000.0 / 200, three.tickNanos());
        assertEquals(5, three.bareStepsPerTick());
        assertFalse(three.isWithinBars(), "5000 ns are too many");
        assertTrue(new TickBenchmark.Figures(3, 50, 80, 1200).isWithinBars());
        assertFalse(new TickBenchmark.Figures(3, 29, 80, 1200).isWithinBars(), "41 bare steps");
        assertEquals(2, out.toString().lines().count());
        assertTrue(
                out.toString().startsWith("3 probes: bare plant step 1000.0 ns"), out.toString());
    }
}
