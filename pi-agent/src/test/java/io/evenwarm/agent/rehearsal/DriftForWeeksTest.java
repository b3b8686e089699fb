package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.FindingCode;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * A probe that drifts up is set aside, and then stands above the cut-off for weeks: heat must not
 * be taken for it again and again in a cabinet that is as it always was. Eggs once came to 27.1 °C,
 * and the relay that switched for it was called chattering, the heater stuck on.
 */
@Tag("long")
final class DriftForWeeksTest {

    @ParameterizedTest(name = "seed {0}: {1}")
    @CsvSource({
        "97, layers that are always more than a kelvin apart",
        "3, the same in a small cabinet",
        "79, a guard probe that is always halfway from the set point to the cut-off",
        "40, a top that no believed probe sees any more",
    })
    void costsNoneOfTheHeatThatTheEggsNeed(long seed, String what) {
        Verdict verdict = FirstDays.after(FaultKind.PROBE_DRIFT, seed, 4);
        assertEquals(List.of(FindingCode.PROBE_DRIFTING), FirstDays.codes(verdict), what);
        assertTrue(verdict.lowestEggCelsius() > 30.4, () -> what + ": " + verdict);
    }
}
