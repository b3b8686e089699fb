package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.SystemClock;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * The alarm logic keeps up with a thousand cabinets, and the benchmark really lets alarms happen.
 */
final class AlarmBenchmarkTest {

    @Test
    void aThousandCabinetsTakeLessThanATenthOfACore() {
        AlarmBenchmark.Result result = AlarmBenchmark.run(SystemClock.monotonic(), 2, 3);
        List<String> lines = result.lines();
        assertTrue(result.isWithinBar(), lines::toString);
        assertTrue(result.changes() >= 3 * AlarmBenchmark.CABINETS / 20, lines::toString);
        assertTrue(result.ratio() > 1, lines::toString);
        assertEquals("alarms of 1,000 cabinets at a snapshot a second, median of 3:", lines.get(0));
    }
}
