package io.evenwarm.agent.guard;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.FindingCode;
import java.util.List;
import org.junit.jupiter.api.Test;

class ProbeLostTest {

    private static final double LOST = GuardRig.LOST;

    private final GuardRig rig = new GuardRig(Plans.threeProbes());

    private boolean isLostAfter(int seconds) {
        rig.judgeFor(seconds, 31, LOST, 31);
        return rig.has(FindingCode.PROBE_LOST);
    }

    @Test
    void aReadingThatGrewTooOldNeedsTwoSecondsMore() {
        rig.judgeFor(10, 31);
        assertFalse(isLostAfter(2));
        assertTrue(isLostAfter(1));
    }

    @Test
    void aProbeThatWasNeverReadGetsTheTimeThatAReadingMayBeOld() {
        assertFalse(isLostAfter(10));
        assertTrue(isLostAfter(1));
    }

    @Test
    void afterAPauseOfTheTicksAProbeGetsThatTimeAgain() {
        rig.judgeFor(10, 31);
        rig.facts = new TickFacts(60, false, List.of(), "", "");
        assertFalse(isLostAfter(1));
        rig.facts = TickFacts.QUIET;
        assertFalse(isLostAfter(9));
        assertTrue(isLostAfter(1));
    }
}
