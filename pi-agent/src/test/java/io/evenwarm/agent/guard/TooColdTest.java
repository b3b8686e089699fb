package io.evenwarm.agent.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.FindingCode;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Cold that calls for a person, and cold that passes by itself. */
final class TooColdTest {

    /** Top, middle and bottom while cold tubs are heated; the mean is near the set point. */
    private static final double[] PARTED = {32.3, 31.2, 30.2};

    private final GuardRig rig = new GuardRig(Plans.threeProbes());

    private static TickFacts facts(boolean isHeaterOn, boolean isRelayClosed, boolean isWork) {
        return GuardRig.facts(isHeaterOn, isRelayClosed, isWork, true, 0);
    }

    private void settle() {
        rig.judgeFor(1000, 31.5);
    }

    /** A quarter of an hour with the door open. */
    private void work() {
        rig.facts = facts(false, true, true);
        rig.judgeFor(900, 25);
        rig.facts = TickFacts.QUIET;
    }

    @Test
    void layersThatColdTubsDriveApartCallNobody() {
        settle();
        work();
        for (int minute = 0; minute < 240; minute++) {
            rig.judgeFor(60, PARTED);
            assertFalse(rig.has(FindingCode.TOO_COLD), "minute " + minute);
        }
    }

    @Test
    void theSameLayersWithoutColdTubsAreTold() {
        settle();
        rig.judgeFor(61, PARTED);
        assertTrue(rig.has(FindingCode.TOO_COLD));
    }

    @Test
    void heatThatFailsAfterWorkIsTold() {
        settle();
        work();
        rig.judgeFor(5400, PARTED);
        for (int minute = 1; minute <= 15; minute++) {
            double fall = 0.06 * minute;
            rig.judgeFor(60, 32.3 - fall, 31.2 - fall, 30.2 - fall);
        }
        assertTrue(rig.has(FindingCode.TOO_COLD));
    }

    @Test
    void aBottomFarBelowTheLimitIsToldWhateverTheMean() {
        settle();
        work();
        rig.judgeFor(5400, PARTED);
        rig.judgeFor(121, 34.1, 31.3, 29.3);
        assertFalse(rig.has(FindingCode.TOO_COLD), "it alone may have fallen out");
        rig.judgeFor(120, 34.1, 31.3, 29.3);
        assertTrue(rig.has(FindingCode.TOO_COLD));
    }

    @Test
    void airThatStillGetsWarmerAfterWorkIsWaitedFor() {
        settle();
        work();
        for (int minute = 0; minute < 150; minute++) {
            rig.judgeFor(60, 26 + 0.02 * minute);
            assertFalse(rig.has(FindingCode.TOO_COLD), "minute " + minute);
        }
        rig.judgeFor(1900, 29);
        assertTrue(rig.has(FindingCode.TOO_COLD), "it no longer gets warmer");
    }

    @Test
    void airThatNeverComesBackAfterWorkIsToldAfterAnHour() {
        settle();
        work();
        rig.judgeFor((int) TooCold.AFTER_WORK_SECONDS, 26);
        assertFalse(rig.has(FindingCode.TOO_COLD));
        rig.judgeFor(90, 26);
        assertTrue(rig.has(FindingCode.TOO_COLD));
    }

    /** Half the heat of a cycle of two minutes. Returns whether the cut-off relay is tested. */
    private boolean tick(double... celsius) {
        long second = rig.now / GuardRig.SECOND;
        boolean wasOpen = rig.last != null && rig.last.grant().isCutOffOpen();
        rig.facts = facts(second % 120 < 60, !wasOpen, false);
        HeatGrant grant = rig.judge(celsius).grant();
        return grant.isGiven() && grant.isCutOffOpen();
    }

    @Test
    void whatTheCutOffRelaysTestWithholdsCallsNobody() {
        int seconds = 0;
        while (!tick(31.9, 31.5, 31.1)) {
            assertTrue(++seconds < 50_000, "there was no test");
        }
        assertTrue(seconds >= CutOffRelayTest.FIRST_AFTER_SECONDS - 1);
        int dip = (int) TooCold.AFTER_TRIAL_SECONDS;
        for (int i = 0; i < dip; i++) {
            double gone = Math.min(1, i / 600.0);
            tick(31.9 - 0.3 * gone, 31.5 - 0.5 * gone, 31.1 - 0.7 * gone);
            assertFalse(rig.has(FindingCode.TOO_COLD), i + " s");
        }
        for (int i = 0; i < 900; i++) {
            tick(31.6, 31.0, 30.4);
        }
        assertTrue(rig.has(FindingCode.TOO_COLD), "what stays cold is told");
        assertEquals(Optional.empty(), rig.finding(FindingCode.TOO_COLD).orElseThrow().probe());
    }

    @Test
    void theCutOffRelayIsNotTestedWhileColdTubsTakeTheHeat() {
        int before = (int) CutOffRelayTest.FIRST_AFTER_SECONDS - 1800;
        for (int i = 0; i < before; i++) {
            assertFalse(tick(31.9, 31.5, 31.1));
        }
        work();
        for (int i = 0; i < 4 * 3600; i++) {
            assertFalse(tick(31.9, 31.5, 31.1), i + " s after the work");
        }
    }
}
