package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.message.FindingCode;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** A heater that gives a part of its heat, often half, from one moment on. */
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

    /**
     * The relay's cycle alone said 81 to 89 % of the power where it was 71 to 79 %, and the layers
     * say it as it is; the last of them was told by the cycle, and more was asked of the layers
     * than so little heat shows in them.
     */
    @ParameterizedTest(name = "seed {0}: {1}")
    @CsvSource({
        "26, a cold room",
        "45, layers whose line was learned from heat that hardly varied",
        "83, probes without noise",
        "77, a warm room that asks for heat in a thirtieth of the time",
    })
    void isFoundWithTheHelpOfTheLayers(long seed, String what) {
        Verdict verdict = FirstDays.after(FaultKind.HEATER_WEAK, seed, 3);
        assertEquals(List.of(FindingCode.HEATER_WEAK), FirstDays.codes(verdict), what);
    }
}
