package io.evenwarm.agent.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.ProbePlace;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** What trips the latch, what only holds heat back, and when a probe is set aside. */
final class LatchPolicyTest {

    private static final double LOST = GuardRig.LOST;
    private static final int TRIAL = (int) LoneHotProbe.TRIAL_SECONDS;

    private static final CabinetPlan WITH_TUB =
            Plans.cabinet(
                    Plans.probe("top", ProbePlace.TOP),
                    Plans.probe("bottom", ProbePlace.BOTTOM),
                    Plans.probe("tub", ProbePlace.TUB));

    private final GuardRig rig = new GuardRig(Plans.threeProbes());

    private String tripped() {
        return rig.guard.latch().trippedReason().orElse("not tripped");
    }

    // --- one probe alone -------------------------------------------------------------------

    @Test
    void aProbeHotAloneTakesHeatAtOnceAndTripsNothing() {
        rig.judgeFor(10, 31.5);
        assertEquals(GuardState.HOLDING, rig.judge(34, 31.5, 31.5).state());
        assertEquals(GuardState.HOLDING, rig.judgeFor(TRIAL - 2, 34, 31.5, 31.5).state());
        Finding finding = rig.finding(FindingCode.PROBES_DISAGREE).orElseThrow();
        assertEquals("top", finding.probe().orElseThrow().value());
        assertTrue(finding.action().startsWith("holds heat back"), finding.action());
    }

    @Test
    void aProbeThatKeepsItsLeadWithTheHeaterOffIsSetAsideAndHeatComesBack() {
        rig.judgeFor(10, 31.5);
        rig.judgeFor(TRIAL + 3, 34, 31.5, 31.5);
        assertFalse(rig.guard.trust().isTrusted(0));
        assertEquals(GuardState.ALLOWING, rig.judgeFor(70, 34, 31.25, 31.25).state());
        Finding finding = rig.finding(FindingCode.PROBES_DISAGREE).orElseThrow();
        assertEquals("top", finding.probe().orElseThrow().value());
        assertTrue(finding.action().contains("leaves this probe aside"), finding.action());
        assertFalse(rig.has(FindingCode.TOO_WARM), "it no longer is the warmest");
    }

    /** The offset of a drifted probe falls with the air: its value sinks, its lead does not. */
    @Test
    void aDriftedProbeThatCoolsWithTheOthersIsContradictedToo() {
        rig.judgeFor(10, 31);
        rig.judgeFor(2, 33.5, 31, 31);
        rig.judgeFor(TRIAL / 2, 33.2, 30.7, 30.7);
        rig.judgeFor(TRIAL / 2 + 2, 32.9, 30.4, 30.4);
        assertFalse(rig.guard.trust().isTrusted(0));
    }

    @Test
    void hotAirThatComesBackToTheOthersWasHotAndItsProbeIsBelieved() {
        rig.judgeFor(10, 31.5);
        rig.judgeFor(2, 34, 31, 31);
        assertEquals(GuardState.HOLDING, rig.judgeFor(300, 33.2, 31, 31).state());
        assertEquals(GuardState.HOLDING, rig.judgeFor(TRIAL - 302, 32.5, 31, 31).state());
        assertEquals(GuardState.ALLOWING, rig.judgeFor(10, 32.4, 31, 31).state());
        assertTrue(rig.guard.trust().isTrusted(0));
        assertEquals("not tripped", tripped());
    }

    @Test
    void aShelfThatStaysHotWithoutHeatTrips() {
        rig.judgeFor(10, 31.5);
        rig.judgeFor(2, 36, 31, 31);
        assertEquals(GuardState.HOLDING, rig.judgeFor(TRIAL + 100, 34, 31, 31).state());
        rig.judgeFor((int) LoneHotProbe.LONGEST_TRIAL_SECONDS - TRIAL, 34, 31, 31);
        assertEquals(GuardState.TRIPPED, rig.guardState());
        assertTrue(tripped().endsWith("it stayed hot with the heater off"), tripped());
    }

    @Test
    void othersThatGetWarmerWithTheHeaterOffTrip() {
        rig.judgeFor(10, 31.5);
        rig.judgeFor(2, 34, 31, 31);
        assertEquals(GuardState.HOLDING, rig.judgeFor(60, 34, 31.2, 31.2).state());
        assertEquals(GuardState.TRIPPED, rig.judge(34, 31.3125, 31.3125).state());
        assertTrue(tripped().endsWith("the other probes got warmer with the heater off"));
    }

    /** Beside a probe that is warm enough to agree. */
    @Test
    void twoPeaksOfANoisyProbeTakeHeatAndTripNothing() {
        rig.judgeFor(10, 31.5);
        for (double peak : new double[] {34, 36.5, 29, 34, 34.2, 30}) {
            rig.judge(peak, 32.1, 31.5);
            assertEquals("not tripped", tripped());
            assertEquals(GuardState.HOLDING, rig.guardState());
        }
    }

    /** As noise leaves them: those in between step too far to be believed. */
    @Test
    void hotSamplesOnBothSidesOfRefusedOnesAreNotTwoInARow() {
        rig.judgeFor(10, 31.5);
        for (double value : new double[] {32, 32.8, 34.1, LOST, LOST, 34, 31.8}) {
            rig.judge(value, 32.1, 31.5);
            assertEquals("not tripped", tripped());
        }
    }

    @Test
    void aHotProbeThatIsLostNowAndThenTripsWithTwoSamplesInARow() {
        rig.judgeFor(10, 31.5);
        for (double value : new double[] {34, LOST, 34.1, LOST, 34.1}) {
            assertEquals(GuardState.HOLDING, rig.judge(value, 32.1, 31.5).state());
        }
        assertEquals(GuardState.TRIPPED, rig.judge(34.2, 32.1, 31.5).state());
    }

    @Test
    void aNoisyProbeThatStaysAtTheCutOffTrips() {
        rig.judgeFor(10, 31.5);
        for (double value : new double[] {34, 30, 34, 34.2, 34.4, 34.2}) {
            rig.judge(value, 32.1, 31.5);
            assertEquals("not tripped", tripped());
        }
        rig.judge(34.1, 32.1, 31.5);
        assertEquals(GuardState.TRIPPED, rig.guardState());
    }

    @Test
    void aSecondProbeThatGetsHotDuringTheTrialTripsAtOnce() {
        rig.judgeFor(10, 31.5);
        rig.judgeFor(60, 34, 31.5, 31.5);
        assertEquals(GuardState.TRIPPED, rig.judge(34, 32.1, 31.5).state());
        assertTrue(tripped().endsWith("middle agrees with 32.10 °C"), tripped());
    }

    @Test
    void aHotProbeThatNoOtherCanContradictTrips() {
        rig.judgeFor(10, 31.5);
        assertEquals(GuardState.TRIPPED, rig.judgeFor(2, 33.5, LOST, LOST).state());
    }

    @Test
    void aHotProbeWhoseLastContradictorIsLostTrips() {
        rig.judgeFor(10, 31.5);
        assertEquals(GuardState.HOLDING, rig.judgeFor(60, 34, 31.5, LOST).state());
        assertEquals(GuardState.TRIPPED, rig.judge(34, LOST, LOST).state());
    }

    // --- after it was set aside ------------------------------------------------------------

    @Test
    void aProbeSetAsideIsBelievedOnceItIsBackAmongTheOthers() {
        rig.judgeFor(TRIAL + 20, 34, 31.5, 31.5);
        assertFalse(rig.guard.trust().isTrusted(0));
        rig.judgeFor((int) LoneHotProbe.BACK_SECONDS + 2, 31.6, 31.5, 31.5);
        assertTrue(rig.guard.trust().isTrusted(0));
    }

    @Test
    void aProbeSetAsideWhoseLeadGrowsLikeHeatIsBelievedAgainAndHeatGoes() {
        rig.judgeFor(TRIAL + 20, 34, 31.5, 31.5);
        assertEquals(GuardState.ALLOWING, rig.judgeFor(60, 34.9, 31.5, 31.5).state());
        assertEquals(GuardState.HOLDING, rig.judge(35.1, 31.5, 31.5).state());
        rig.judge(35.1, 31.5, 31.5);
        assertTrue(rig.guard.trust().isTrusted(0));
    }

    @Test
    void aProbeSetAsideThatDriftsOnAsProbesDoStaysAside() {
        rig.judgeFor(TRIAL + 20, 34, 31.5, 31.5);
        for (int hour = 1; hour <= 24; hour++) {
            rig.judgeFor(3600, 34 + 0.2 * hour, 31.5, 31.5);
            assertFalse(rig.guard.trust().isTrusted(0), "after " + hour + " h");
            assertEquals(GuardState.ALLOWING, rig.guardState());
        }
    }

    @Test
    void aProbeSetAsideStillTakesHeatAwayTogetherWithOneThatIsHalfwayThere() {
        rig.judgeFor(TRIAL + 20, 34, 31.5, 31.5);
        assertEquals(GuardState.ALLOWING, rig.judgeFor(60, 34, 32.4, 31.5).state());
        assertEquals(GuardState.HOLDING, rig.judgeFor(600, 34, 32.5, 31.5).state());
        assertEquals(GuardState.ALLOWING, rig.judgeFor(10, 34, 32.4, 31.5).state());
    }

    @Test
    void aProbeSetAsideStillTripsTogetherWithOneThatIsNearlyThere() {
        rig.judgeFor(TRIAL + 20, 34, 31.5, 31.5);
        assertEquals(GuardState.HOLDING, rig.judgeFor(600, 34, 33.2, 31.5).state());
        assertEquals(GuardState.TRIPPED, rig.judgeFor(2, 34, 33.25, 31.5).state());
    }

    // --- tubs ------------------------------------------------------------------------------

    @Test
    void aTubThatIsHotWithoutHotAirIsSetAsideAfterAWhile() {
        GuardRig withTub = new GuardRig(WITH_TUB);
        withTub.judgeFor(10, 31.5);
        assertEquals(GuardState.HOLDING, withTub.judgeFor(890, 31.5, 31.5, 34).state());
        assertEquals(GuardState.ALLOWING, withTub.judgeFor(20, 31.5, 31.5, 34).state());
        assertFalse(withTub.guard.trust().isTrusted(2));
    }

    @Test
    void aTubThatHotAirHeatedTripsThoughTheAirHasCooled() {
        GuardRig withTub = new GuardRig(WITH_TUB);
        withTub.judgeFor(600, 33.4, 33.4, 32);
        withTub.judgeFor(1200, 31.5, 31.5, 33);
        assertEquals(GuardState.TRIPPED, withTub.judgeFor(2, 31.5, 31.5, 33.5).state());
    }

    // --- one probe left --------------------------------------------------------------------

    @Test
    void withOneProbeLeftTheMarginIsHalvedAndAPersonHears() {
        rig.judgeFor(20, 31.5);
        assertEquals(33.5, rig.guard.limits().cutOff().celsius());
        rig.judgeFor(12, 31.5, LOST, LOST);
        assertEquals(32.5, rig.guard.limits().cutOff().celsius());
        assertEquals(GuardState.ALLOWING, rig.guardState());
        assertTrue(rig.has(FindingCode.ONE_PROBE_LEFT));
        assertEquals(GuardState.HOLDING, rig.judgeFor(299, 32.5, LOST, LOST).state());
        assertEquals(GuardState.TRIPPED, rig.judgeFor(2, 32.5, LOST, LOST).state());
    }

    @Test
    void anOvershootOverTheHalvedMarginCostsHeatAndNoWalk() {
        rig.judgeFor(20, 31.5);
        rig.judgeFor(12, 31.5, LOST, LOST);
        assertEquals(GuardState.HOLDING, rig.judgeFor(240, 32.6, LOST, LOST).state());
        assertEquals(GuardState.ALLOWING, rig.judgeFor(10, 32.0, LOST, LOST).state());
        assertEquals(33.5, rig.guard.limits().cutOff().celsius() + 1);
        rig.judgeFor(10, 31.5);
        assertEquals(33.5, rig.guard.limits().cutOff().celsius());
    }

    @Test
    void aCabinetOfOneProbeHasTheMarginThatItsKeeperGaveIt() {
        GuardRig single = new GuardRig(Plans.cabinet(Plans.probe("only", ProbePlace.MIDDLE)));
        assertEquals(GuardState.ALLOWING, single.judgeFor(30, 33).state());
        assertEquals(33.5, single.guard.limits().cutOff().celsius());
        assertFalse(single.has(FindingCode.ONE_PROBE_LEFT));
    }

    // --- resets ----------------------------------------------------------------------------

    @Test
    void aRemoteResetWaitsForFiveMinutesWithoutWarmingAndOneAtTheCabinetDoesNot() {
        rig.judgeFor(10, 34);
        rig.judgeFor(120, 32);
        assertTrue(rig.guard.resetRefusal(rig.state(32), true).isEmpty());
        assertEquals(
                "the heater must be seen to obey first: 3 more minutes without getting warmer are"
                        + " needed",
                rig.guard.resetRefusal(rig.state(32), false).orElseThrow());
        rig.judgeFor(200, 31.9);
        assertTrue(rig.guard.resetRefusal(rig.state(31.9), false).isEmpty());
    }

    @Test
    void aRemoteResetIsRefusedWhileItGetsWarmer() {
        rig.judgeFor(10, 34);
        rig.judgeFor(400, 31);
        rig.judgeFor(120, 31.5);
        assertEquals(
                "it is getting warmer though the heater is told off: 31.00 °C 5 min ago, 31.50 °C"
                        + " now. Pull the heater's plug",
                rig.guard.resetRefusal(rig.state(31.5), false).orElseThrow());
    }

    @Test
    void allProbesMustBeOneKelvinBelowTheCutOff() {
        rig.judgeFor(10, 34);
        rig.judgeFor(400, 32);
        for (double[] celsius : List.of(new double[] {32.5, 31, 31}, new double[] {31, 31, 33})) {
            assertTrue(
                    rig.guard
                            .resetRefusal(rig.state(celsius), false)
                            .orElseThrow()
                            .contains("it must be below 32.50 °C"));
        }
    }

    /** From afar nobody sees whether a probe that was set aside is wrong still. */
    @Test
    void fromAfarAProbeThatIsSetAsideMustBeCoolToo() {
        rig.judgeFor(10, 31.5);
        rig.judgeFor(TRIAL + 3, 34, 31.5, 31.5);
        assertFalse(rig.guard.trust().isTrusted(0));
        assertEquals(GuardState.TRIPPED, rig.judgeFor(5, 34).state());
        rig.judgeFor(400, 34, 31, 31);
        assertFalse(rig.guard.trust().isTrusted(0));
        assertEquals(
                "probe top still reads 34.00 °C: it must be below 32.50 °C (1 K below the cut-off)"
                        + " first",
                rig.guard.resetRefusal(rig.state(34, 31, 31), false).orElseThrow());
        assertEquals(Optional.empty(), rig.guard.resetRefusal(rig.state(34, 31, 31), true));
        assertEquals(Optional.empty(), rig.guard.resetRefusal(rig.state(31, 31, 31), false));
    }
}
