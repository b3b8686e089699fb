package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A heater that gives half of its heat from one moment on. */
final class WeakHeaterTest {

    private static final double WEAK_FROM = 26 * 3600.0;
    private static final double DURATION = 32 * 3600.0;

    /**
     * Cabinets in which it was called dead after a quarter of an hour, in 10 and 41 mains that came
     * back after that, in 5005 and 5012 of the catalogue's own weak heaters.
     */
    @ParameterizedTest
    @ValueSource(longs = {1, 10, 20, 41, 62, 5005, 5012})
    void isNotTakenForADeadOne(long seed) {
        Verdict verdict = WeakHeaters.verdict(seed, DURATION, WEAK_FROM, OptionalDouble.empty());
        assertEquals(List.of(), verdict.findings());
    }
}
