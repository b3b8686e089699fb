package io.evenwarm.agent.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.FindingCode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * A top probe that drifts down beside a fan that has slowed. The middle, which is right, once was
 * set aside for it, and eggs came to 35.05 and 35.43 °C within two days.
 */
final class SlowFanBesideADriftTest {

    @ParameterizedTest
    @ValueSource(longs = {10, 50})
    void keepsTheEggsBelowTheCeiling(long seed) {
        Pairs.Pair pair =
                new Pairs.Pair(
                        new Pairs.Member(FaultKind.FAN_SLOW, false),
                        new Pairs.Member(FaultKind.PROBE_DRIFT, false));
        Pairs.Run run = Pairs.run(pair, seed, () -> false);
        assertEquals(0, run.verdict().secondsAboveCeiling(), run::line);
        assertTrue(
                run.verdict().findings().stream()
                        .anyMatch(found -> found.code().equals(FindingCode.FAN_WEAK)),
                run::line);
    }
}
