package io.evenwarm.agent.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbePlace;
import java.util.List;
import org.junit.jupiter.api.Test;

/** A room that is too cold or too warm, a relay that chatters, a clock that nobody set. */
final class RoomRelayClockTest {

    private GuardRig rig = new GuardRig(Plans.threeProbes());

    private static TickFacts heater(boolean isOn) {
        return new TickFacts(1, isOn, List.of(), "", "");
    }

    private static TickFacts signs(boolean isWork, boolean isTrusted, double jumpSeconds) {
        return GuardRig.facts(false, true, isWork, isTrusted, jumpSeconds);
    }

    // --- the room --------------------------------------------------------------------------

    @Test
    void fullHeatThatStandsShortOfTheSetPointIsTheRoom() {
        rig.judgeFor(20, 30);
        rig.facts = heater(true);
        rig.judgeFor(3000, 30);
        assertFalse(rig.has(FindingCode.ROOM_TOO_COLD));
        rig.judgeFor(1800, 30);
        assertTrue(rig.has(FindingCode.ROOM_TOO_COLD));
        rig.judgeFor(700, 31.2);
        assertFalse(rig.has(FindingCode.ROOM_TOO_COLD));
    }

    @Test
    void aCabinetThatStillWarmsUpHasNoColdRoom() {
        rig.facts = heater(true);
        for (int minute = 0; minute < 300; minute++) {
            rig.judgeFor(60, 20 + minute * 0.03);
        }
        assertFalse(rig.has(FindingCode.ROOM_TOO_COLD));
    }

    @Test
    void airThatFallsFastHasAnotherReason() {
        rig.facts = heater(true);
        for (int minute = 0; minute < 90; minute++) {
            rig.judgeFor(60, 31 - minute * 0.06);
        }
        assertFalse(rig.has(FindingCode.ROOM_TOO_COLD));
    }

    @Test
    void airThatStaysWarmLongAfterTheHeaterWentOffIsTheRoom() {
        rig.judgeFor(1500, 32.2);
        assertFalse(rig.has(FindingCode.ROOM_TOO_WARM));
        rig.judgeFor(300, 32.2);
        assertTrue(rig.has(FindingCode.ROOM_TOO_WARM));
        rig.judgeFor(700, 31.5);
        assertFalse(rig.has(FindingCode.ROOM_TOO_WARM));
    }

    @Test
    void airThatComesBackFromAnOvershootIsNoWarmRoom() {
        for (int minute = 0; minute < 90; minute++) {
            rig.judgeFor(60, 32.4 - minute * 0.01);
        }
        assertFalse(rig.has(FindingCode.ROOM_TOO_WARM));
    }

    @Test
    void aCoolRoomIsNotToBlame() {
        rig =
                new GuardRig(
                        Plans.cabinet(
                                Plans.probe("top", ProbePlace.TOP),
                                Plans.probe("room", ProbePlace.AMBIENT)));
        rig.judgeFor(4000, 32.2, 20);
        assertFalse(rig.has(FindingCode.ROOM_TOO_WARM));
        rig.judgeFor(4000, 32.2, 31);
        assertTrue(rig.has(FindingCode.ROOM_TOO_WARM));
    }

    // --- the relay -------------------------------------------------------------------------

    private void cycles(int count, int onSeconds, int offSeconds) {
        for (int i = 0; i < count; i++) {
            rig.facts = heater(true);
            rig.judgeFor(onSeconds, 31.5);
            rig.facts = heater(false);
            rig.judgeFor(offSeconds, 31.5);
        }
    }

    @Test
    void aSoundLoopDoesNotChatter() {
        cycles(60, 40, 92);
        assertFalse(rig.has(FindingCode.RELAY_CHATTER));
    }

    @Test
    void aWindowOfTwentySecondsChattersWithinMinutes() {
        cycles(18, 10, 10);
        assertTrue(rig.has(FindingCode.RELAY_CHATTER));
    }

    @Test
    void aPaceOfThirteenHundredADayChattersWithinTheHour() {
        cycles(45, 30, 36);
        assertTrue(rig.has(FindingCode.RELAY_CHATTER));
        cycles(40, 40, 92);
        assertFalse(rig.has(FindingCode.RELAY_CHATTER));
    }

    // --- the clock -------------------------------------------------------------------------

    @Test
    void aClockThatNothingSetsIsToldAfterTenMinutes() {
        rig.facts = signs(false, false, 0);
        rig.judgeFor(600, 31.5);
        assertFalse(rig.has(FindingCode.CLOCK_UNTRUSTED));
        rig.judgeFor(2, 31.5);
        assertTrue(rig.has(FindingCode.CLOCK_UNTRUSTED));
        rig.facts = signs(false, true, 7200);
        rig.judge(31.5);
        assertFalse(rig.has(FindingCode.CLOCK_UNTRUSTED), "that was the setting waited for");
    }

    @Test
    void aClockThatJumpsIsToldForAnHour() {
        rig.judgeFor(20, 31.5);
        rig.facts = signs(false, true, -90);
        rig.judge(31.5);
        rig.facts = signs(false, true, 0);
        assertEquals(
                "the wall clock jumped by -90 s while it ran",
                rig.finding(FindingCode.CLOCK_UNTRUSTED).orElseThrow().evidence());
        rig.judgeFor(3598, 31.5);
        assertTrue(rig.has(FindingCode.CLOCK_UNTRUSTED));
        rig.judgeFor(3, 31.5);
        assertFalse(rig.has(FindingCode.CLOCK_UNTRUSTED));
    }

    // --- planned work ----------------------------------------------------------------------

    @Test
    void coldAirIsNotReportedDuringPlannedWorkAndSoonAfter() {
        rig.judgeFor(1000, 31.5);
        rig.facts = signs(true, true, 0);
        rig.judgeFor(900, 26);
        assertFalse(rig.has(FindingCode.TOO_COLD));
        rig.facts = signs(false, true, 0);
        rig.judgeFor(1800, 30);
        assertFalse(rig.has(FindingCode.TOO_COLD));
        rig.judgeFor(1900, 30);
        assertTrue(rig.has(FindingCode.TOO_COLD), "an hour is enough to get warm again");
    }

    @Test
    void theCutOffKnowsNoPlannedWork() {
        rig.judgeFor(20, 31.5);
        rig.facts = signs(true, true, 0);
        rig.judgeFor(3, 33.6);
        assertTrue(rig.has(FindingCode.CUT_OFF_TRIPPED));
    }
}
