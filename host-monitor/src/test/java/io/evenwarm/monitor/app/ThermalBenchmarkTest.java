package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.SystemClock;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The thermal model keeps its bars with room to spare on few days, and is really asked. */
final class ThermalBenchmarkTest {

    @Test
    void aFewDaysStayFarBelowTheBarsOfThirty(@TempDir Path folder) throws IOException {
        ThermalBenchmark.Result result =
                ThermalBenchmark.run(SystemClock.monotonic(), folder, 5, 5);
        List<String> lines = result.lines();
        assertEquals(5 * 17_280, result.readings());
        assertTrue(result.isWithinBars(), lines::toString);
        assertTrue(result.fitSeconds() > result.bareFitSeconds(), lines::toString);
        assertTrue(result.shareOfACore() > result.bareShareOfACore(), lines::toString);
        assertTrue(result.whatIfSeconds() > result.bareWhatIfSeconds(), lines::toString);
        assertTrue(lines.get(0).startsWith("fit to 86,400 readings of each of 3 probes"));
    }
}
