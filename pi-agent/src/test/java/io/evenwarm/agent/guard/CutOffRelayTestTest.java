package io.evenwarm.agent.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.FindingCode;
import java.util.Random;
import org.junit.jupiter.api.Test;

/**
 * The daily test of the cut-off relay, on air that answers heat as a cabinet's does: {@code base +
 * 4 q + 2 q'} behind 250 s and 1200 s, read with noise and rounded as a DS18B20 rounds.
 */
final class CutOffRelayTestTest {

    private static final int WINDOW_SECONDS = 132;
    private static final double DUTY = 0.2;
    private static final double ROUNDING = 16;

    /** The air sways by this beside what the heater does: a draught, a look before. */
    private static final double SWAY_KELVIN = 0.08;

    private static final double SWAY_SECONDS = 420;
    private static final int HOUR = 3600;

    private final GuardRig rig = new GuardRig(Plans.threeProbes());
    private final Random random = new Random(11);
    private boolean isStuck;
    private boolean isGiving = true;
    private double probeShare = DUTY;
    private double elementShare = DUTY;
    private double wallShare = DUTY;
    private double owedSeconds;
    private int openSeconds;
    private boolean isMovedByElse;
    private int withheldSeconds;
    private double givenBackSeconds;
    private double lowest;

    /** A second of a window with the heater on for its share, and for what was given back. */
    private void second() {
        GuardVerdict before = rig.last;
        boolean isOpen =
                before != null && before.grant().isGiven() && before.grant().isCutOffOpen();
        long inWindow = rig.now / GuardRig.SECOND % WINDOW_SECONDS;
        boolean isCommanded = inWindow < DUTY * WINDOW_SECONDS || owedSeconds > 0;
        if (inWindow >= DUTY * WINDOW_SECONDS && owedSeconds > 0) {
            owedSeconds--;
        }
        boolean comes = isGiving && isCommanded && (isStuck || !isOpen);
        openSeconds += isOpen ? 1 : 0;
        withheldSeconds += isOpen && isCommanded ? 1 : 0;
        probeShare += ((comes ? 1 : 0) - probeShare) / 30;
        elementShare += (probeShare - elementShare) / 250;
        wallShare += (probeShare - wallShare) / 1200;
        double celsius = 31.5 + 4 * (elementShare - DUTY) + 2 * (wallShare - DUTY);
        if (isMovedByElse) {
            celsius +=
                    SWAY_KELVIN * Math.sin(2 * Math.PI * rig.now / GuardRig.SECOND / SWAY_SECONDS);
        }
        lowest = Math.min(lowest, celsius);
        rig.facts = GuardRig.facts(isCommanded, !isOpen, false, true, 0);
        GuardVerdict verdict = rig.judge(read(celsius), read(celsius), read(celsius));
        owedSeconds += verdict.giveBackSeconds();
        givenBackSeconds += verdict.giveBackSeconds();
    }

    private double read(double celsius) {
        return Math.rint((celsius + 0.02 * random.nextGaussian()) * ROUNDING) / ROUNDING;
    }

    private void hours(double hours) {
        lowest = Double.MAX_VALUE;
        openSeconds = 0;
        withheldSeconds = 0;
        givenBackSeconds = 0;
        for (int i = 0; i < hours * HOUR; i++) {
            second();
        }
    }

    @Test
    void aSoundRelayIsTestedEachDayAndTheAirHardlyFalls() {
        hours(12);
        assertEquals(0, openSeconds, "not in the first half day");
        double usualLowest = 31.5 - 0.3;
        for (int day = 0; day < 2; day++) {
            hours(24);
            assertTrue(withheldSeconds >= 4, "withheld " + withheldSeconds + " s");
            assertTrue(lowest > usualLowest, "down to " + lowest);
            assertFalse(rig.has(FindingCode.CUT_OFF_RELAY_STUCK), "day " + day);
        }
    }

    @Test
    void whatWasWithheldIsGivenBack() {
        hours(16);
        assertTrue(withheldSeconds > 0);
        assertEquals(withheldSeconds, givenBackSeconds, 2);
    }

    @Test
    void aStuckRelayIsToldWithinADayAndTakenBackOnceItInterrupts() {
        hours(16);
        isStuck = true;
        hours(26);
        assertTrue(rig.has(FindingCode.CUT_OFF_RELAY_STUCK));
        assertTrue(
                rig.finding(FindingCode.CUT_OFF_RELAY_STUCK)
                        .orElseThrow()
                        .evidence()
                        .startsWith("opened "));
        isStuck = false;
        hours(26);
        assertFalse(rig.has(FindingCode.CUT_OFF_RELAY_STUCK));
    }

    @Test
    void airThatDoesNotAnswerTheHeaterProvesNothing() {
        isGiving = false;
        probeShare = 0;
        hours(20);
        assertFalse(rig.has(FindingCode.CUT_OFF_RELAY_STUCK));
    }

    /** Even where the relay does stick: what else moves the air is no proof of that. */
    @Test
    void airThatIsMovedBySomethingElseProvesNothing() {
        isStuck = true;
        isMovedByElse = true;
        hours(30);
        assertTrue(withheldSeconds > 0, "it was tested");
        assertFalse(rig.has(FindingCode.CUT_OFF_RELAY_STUCK));
        isMovedByElse = false;
        hours(26);
        assertTrue(rig.has(FindingCode.CUT_OFF_RELAY_STUCK), "calm again");
    }
}
