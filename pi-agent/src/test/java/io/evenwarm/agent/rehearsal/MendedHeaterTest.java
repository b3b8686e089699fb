package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.message.FindingCode;
import java.util.OptionalDouble;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A heater that was weak for days, and then gives all its heat again. */
final class MendedHeaterTest {

    private static final double DAY = 86_400;
    private static final double WEAK_FROM = 2 * DAY;
    private static final double WEAK_SECONDS = 4 * DAY;
    private static final double DURATION = 9 * DAY;

    @ParameterizedTest
    @ValueSource(longs = {5001, 5002, 5004, 5005, 5008, 5010})
    void isNotTakenForOneThatIsAlwaysOn(long seed) {
        Verdict verdict =
                WeakHeaters.verdict(seed, DURATION, WEAK_FROM, OptionalDouble.of(WEAK_SECONDS));
        assertEquals(
                OptionalDouble.empty(),
                verdict.firstRaised(FindingCode.HEATER_STUCK_ON),
                () -> verdict.findings().toString());
    }
}
