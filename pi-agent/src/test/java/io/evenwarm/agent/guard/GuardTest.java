package io.evenwarm.agent.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.cabinet.CabinetObserver;
import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Limits;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Temperature;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

final class GuardTest {

    private static final long SECOND = 1_000_000_000L;
    private static final double LOST = Double.NaN;

    private CabinetPlan plan = Plans.threeProbes();
    private Guard guard = new Guard(plan, new Latch.Clear());
    private long now;

    private void cabinet(ProbePlan... probes) {
        plan = Plans.cabinet(probes);
        guard = new Guard(plan, new Latch.Clear());
    }

    private GuardVerdict judge(double... celsius) {
        now += SECOND;
        return guard.judge(state(now, celsius), TickFacts.QUIET, now);
    }

    private GuardVerdict judgeFor(int seconds, double... celsius) {
        GuardVerdict verdict = judge(celsius);
        for (int i = 1; i < seconds; i++) {
            verdict = judge(celsius);
        }
        return verdict;
    }

    private CabinetState state(long atNanos, double... celsius) {
        List<ProbeReading> readings = new ArrayList<>();
        for (int i = 0; i < plan.probes().size(); i++) {
            ProbePlan probe = plan.probes().get(i);
            double value = celsius[celsius.length == 1 ? 0 : i];
            Reading reading =
                    Double.isNaN(value)
                            ? new Reading.Bad(Reading.Doubt.STALE, 0)
                            : new Reading.Good(new Temperature(value), atNanos);
            readings.add(new ProbeReading(probe.name(), probe.place(), reading));
        }
        return new CabinetObserver(plan).observe(List.copyOf(readings));
    }

    private static Optional<Finding> finding(GuardVerdict verdict, FindingCode code) {
        return verdict.findings().stream().filter(one -> one.code().equals(code)).findFirst();
    }

    private static boolean has(GuardVerdict verdict, FindingCode code) {
        return finding(verdict, code).isPresent();
    }

    // --- heat or no heat -------------------------------------------------------------------

    @Test
    void heatIsAllowedFiveSecondsAfterTheFirstGoodReadings() {
        assertEquals(GuardState.STARTING, judge(21).state());
        GuardVerdict fifth = judgeFor(4, 21);
        assertEquals(GuardState.STARTING, fifth.state());
        assertEquals(HeatGrant.NONE, fifth.grant());
        GuardVerdict sixth = judge(21);
        assertEquals(GuardState.ALLOWING, sixth.state());
        assertTrue(sixth.grant().holdsAt(now));
        assertTrue(sixth.grant().holdsAt(now + 2 * SECOND));
        assertFalse(sixth.grant().holdsAt(now + 3 * SECOND));
    }

    @Test
    void oneGoodAirProbeIsEnoughForHeatAndNoneIsBlind() {
        judgeFor(10, 31);
        assertEquals(GuardState.ALLOWING, judge(LOST, LOST, 31).state());
        GuardVerdict blind = judge(LOST);
        assertEquals(GuardState.HOLDING, blind.state());
        assertFalse(blind.grant().isGiven());
        assertEquals(GuardState.HOLDING, judgeFor(5, 31).state());
        assertEquals(GuardState.ALLOWING, judge(31).state());
    }

    @Test
    void aCabinetThatIsBlindFromTheStartIsNotStartingForEver() {
        assertEquals(GuardState.STARTING, judgeFor(59, LOST).state());
        GuardVerdict verdict = judgeFor(2, LOST);
        assertEquals(GuardState.HOLDING, verdict.state());
        assertTrue(has(verdict, FindingCode.BLIND));
    }

    @Test
    void heatLinesThatFailHoldHeatBackAndOthersDoNot() {
        judgeFor(10, 31);
        for (Line line : Line.values()) {
            now += SECOND;
            TickFacts facts =
                    new TickFacts(1, false, List.of(new LineFault(line, "stuck")), "", "");
            GuardVerdict verdict = guard.judge(state(now, 31), facts, now);
            boolean isHeatLine = line == Line.HEATER || line == Line.CUT_OFF_RELAY;
            assertEquals(isHeatLine ? GuardState.HOLDING : GuardState.ALLOWING, verdict.state());
            assertTrue(has(verdict, FindingCode.OUTPUT_FAILING));
            judgeFor(10, 31);
        }
    }

    @Test
    void anInternalFaultHoldsHeatBackForAWhile() {
        judgeFor(10, 31);
        now += SECOND;
        TickFacts facts = new TickFacts(1, false, List.of(), "", "java.lang.ArithmeticException");
        GuardVerdict verdict = guard.judge(state(now, 31), facts, now);
        assertEquals(GuardState.HOLDING, verdict.state());
        assertTrue(has(verdict, FindingCode.AGENT_FAULT));
        assertEquals(GuardState.ALLOWING, judgeFor(6, 31).state());
    }

    // --- the cut-off -----------------------------------------------------------------------

    @Test
    void atTheCutOffHeatGoesAtOnceAndTheSecondSampleTrips() {
        judgeFor(10, 32.9375);
        assertEquals(GuardState.ALLOWING, judge(32.9375).state());
        GuardVerdict first = judge(33.5, 32, 32.5);
        assertEquals(GuardState.HOLDING, first.state());
        assertFalse(first.grant().isGiven());
        GuardVerdict second = judge(33.5, 32, 32.5);
        assertEquals(GuardState.TRIPPED, second.state());
        String why = "probe top read 33.50 °C, cut-off at 33.50 °C; bottom agrees with 32.50 °C";
        assertEquals(new Latch.Tripped(why), guard.latch());
        Finding finding = finding(second, FindingCode.CUT_OFF_TRIPPED).orElseThrow();
        assertEquals(why, finding.evidence());
        assertEquals(now, finding.raisedAtNanos());
    }

    /** An overshoot near the cut-off costs minutes of heat, not a walk to a latched cabinet. */
    @Test
    void halfAKelvinBelowTheCutOffHeatIsHeldBackWithoutALatch() {
        assertEquals(GuardState.ALLOWING, judgeFor(10, 33.0).state());
        assertEquals(GuardState.HOLDING, judge(33.0625).state());
        assertEquals(GuardState.HOLDING, judgeFor(600, 33.4375).state());
        assertEquals(GuardState.HOLDING, judgeFor(10, 32.875).state());
        assertEquals(GuardState.ALLOWING, judgeFor(10, 32.75).state());
        assertEquals(new Latch.Clear(), guard.latch());
    }

    /**
     * A strong heater in a cabinet just closed lifts its top by 2 K a minute, and goes on for half
     * a minute after it is switched off.
     */
    @Test
    void airThatClimbsFastIsHeldBackBeforeItIsNearTheCutOff() {
        double celsius = climbUntilHeldBack(2);
        assertEquals(32.1, celsius, 0.15);
        celsius += 0.5;
        assertEquals(GuardState.HOLDING, judge(celsius).state());
        assertEquals(GuardState.ALLOWING, judgeFor(60, celsius).state());
        assertEquals(new Latch.Clear(), guard.latch());
    }

    @Test
    void airThatClimbsSlowlyIsNotHeldBackBeforeItIsNearTheCutOff() {
        assertEquals(32.9, climbUntilHeldBack(0.2), 0.05);
    }

    /** Returns what all probes read when heat is first held back, °C. */
    private double climbUntilHeldBack(double kelvinPerMinute) {
        judgeFor(60, 30.5);
        double celsius = 30.5;
        while (judge(celsius).state() == GuardState.ALLOWING) {
            celsius += kelvinPerMinute / 60;
        }
        return celsius;
    }

    @Test
    void oneSampleSeenInManyTicksTripsNothing() {
        judgeFor(10, 31);
        long sampledAt = now;
        for (int i = 0; i < 8; i++) {
            now += SECOND;
            GuardVerdict verdict = guard.judge(state(sampledAt, 33.6), TickFacts.QUIET, now);
            assertEquals(GuardState.HOLDING, verdict.state());
        }
    }

    @Test
    void hotSamplesMustFollowEachOther() {
        judgeFor(10, 31);
        for (int i = 0; i < 10; i++) {
            judge(33.6, 33, 33);
            assertEquals(GuardState.HOLDING, judge(33.4, 33, 33).state());
        }
        assertEquals(GuardState.ALLOWING, judgeFor(10, 32.5).state());
    }

    @Test
    void aTubAtTheCutOffTripsAndTheRoomDoesNot() {
        cabinet(
                Plans.probe("top", ProbePlace.TOP),
                Plans.probe("tub", ProbePlace.TUB),
                Plans.probe("room", ProbePlace.AMBIENT));
        assertEquals(GuardState.ALLOWING, judgeFor(10, 33.0, 31, 40).state());
        assertEquals(GuardState.TRIPPED, judgeFor(2, 33.0, 33.5, 20).state());
    }

    @Test
    void aTripStaysWhateverComes() {
        judgeFor(3, 34);
        assertEquals(GuardState.TRIPPED, judgeFor(1000, 20).state());
        assertEquals(GuardState.TRIPPED, judgeFor(50, LOST).state());
        assertInstanceOf(Latch.Tripped.class, guard.latch());
    }

    @Test
    void theFirstReasonOfATripStays() {
        judgeFor(3, 34, 33, 31);
        Latch first = guard.latch();
        judgeFor(10, 33, 35, 31);
        assertSame(first, guard.latch());
    }

    @Test
    void aResetWaitsUntilItIsCoolAndSomethingCanBeSeen() {
        assertEquals(
                Optional.of("the cut-off has not tripped: there is nothing to reset"),
                guard.resetRefusal(state(now, 31), true));
        judgeFor(3, 34);
        assertTrue(
                guard.resetRefusal(state(now, LOST), true).orElseThrow().contains("no air probe"));
        assertEquals(
                Optional.of(
                        "probe middle still reads 32.50 °C: it must be below 32.50 °C (1 K below the"
                                + " cut-off) first"),
                guard.resetRefusal(state(now, 31, 32.5, 31), true));
        assertThrows(IllegalStateException.class, () -> guard.reset(state(now, 32.5), true));
        assertEquals(Optional.empty(), guard.resetRefusal(state(now, 32.4375), true));
        guard.reset(state(now, 32.4375), true);
        assertEquals(GuardState.ALLOWING, judgeFor(10, 31).state());
    }

    @Test
    void afterAResetTwoNewSamplesAreNeededToTripAgain() {
        judgeFor(3, 34);
        judgeFor(3, 31);
        guard.reset(state(now, 31), true);
        judgeFor(10, 31);
        assertEquals(GuardState.HOLDING, judge(34).state());
        assertEquals(GuardState.TRIPPED, judge(34).state());
    }

    // --- limits ----------------------------------------------------------------------------

    @Test
    void aCutOffAboveTheCeilingCountsAsTheCeiling() {
        plan = Plans.cabinet(Plans.limits(30.5, 50, 60, 34.5), Plans.probe("top", ProbePlace.TOP));
        guard = new Guard(plan, new Latch.Clear());
        assertEquals(34.5, guard.limits().cutOff().celsius());
        assertEquals(34.5, guard.limits().tooWarm().celsius());
        judgeFor(10, 31);
        assertEquals(GuardState.TRIPPED, judgeFor(2, 34.5).state());
    }

    /** The example of OPC UA Part 9, 5.8.22.1: 10, +2, −1 gives 12 and 9; 11 gives 13 and 10. */
    @Test
    void coldAndWarmLimitsMoveWithTheSetPoint() {
        CabinetPlan cool =
                new CabinetPlan(
                        plan.name(),
                        plan.probes(),
                        new Temperature(10),
                        Plans.limits(9, 12, 20, 21),
                        plan.control(),
                        plan.guard(),
                        true,
                        true);
        Guard one = new Guard(cool, new Latch.Clear());
        assertEquals(Plans.limits(9, 12, 20, 21), one.limits());
        one.setPointChanged(new Temperature(11));
        assertEquals(Plans.limits(10, 13, 20, 21), one.limits());
        one.setPointChanged(new Temperature(19));
        assertEquals(Plans.limits(18, 20, 20, 21), one.limits(), "the cut-off bounds the warm one");
    }

    @Test
    void noSetPointInTheAllowedRangeEverMovesTheCutOffOrPassesTheCeiling() {
        for (double celsius = -20; celsius < 60; celsius += 0.25) {
            Temperature wanted = new Temperature(celsius);
            if (guard.setPointRefusal(wanted).isPresent()) {
                assertThrows(IllegalArgumentException.class, () -> guard.setPointChanged(wanted));
                assertTrue(celsius < 10 || celsius > 32.5, "refused " + celsius);
                continue;
            }
            assertTrue(celsius >= 10 && celsius <= 32.5, "allowed " + celsius);
            guard.setPointChanged(wanted);
            Limits limits = guard.limits();
            assertEquals(33.5, limits.cutOff().celsius());
            assertTrue(limits.tooWarm().celsius() <= limits.ceiling().celsius());
        }
    }

    @Test
    void aPlanWhoseOwnSetPointDoesNotFitIsRefusedAtTheStart() {
        CabinetPlan wrong =
                Plans.cabinet(Plans.limits(30.5, 32, 32, 34.5), Plans.probe("top", ProbePlace.TOP));
        IllegalArgumentException refused =
                assertThrows(
                        IllegalArgumentException.class, () -> new Guard(wrong, new Latch.Clear()));
        assertEquals(
                "cabinet north: the set point must be 10.00 °C to 31.00 °C (1 K below the cut-off)"
                        + " but was 31.50 °C",
                refused.getMessage());
    }

    // --- findings --------------------------------------------------------------------------

    @Test
    void tooWarmNeedsAMinuteAndGoesBelowItsDeadBand() {
        judgeFor(10, 31.5);
        assertFalse(has(judgeFor(60, 32.6, 31, 31), FindingCode.TOO_WARM));
        GuardVerdict raised = judge(32.6, 31, 31);
        Finding finding = finding(raised, FindingCode.TOO_WARM).orElseThrow();
        assertEquals(
                "warmest top 32.60 °C, coldest middle 31.00 °C; warm limit 32.50 °C",
                finding.evidence());
        assertEquals(now - 60 * SECOND, finding.raisedAtNanos());
        assertEquals(GuardState.ALLOWING, raised.state(), "being too warm is not the cut-off");
        assertTrue(has(judgeFor(200, 32.4, 31, 31), FindingCode.TOO_WARM));
        assertTrue(has(judgeFor(60, 32.3, 31, 31), FindingCode.TOO_WARM));
        assertFalse(has(judgeFor(1, 32.3, 31, 31), FindingCode.TOO_WARM));
    }

    @Test
    void tooColdWaitsForTheFirstWarmUp() {
        assertFalse(has(judgeFor(3600, 25), FindingCode.TOO_COLD));
        judgeFor(901, 31);
        assertFalse(has(judgeFor(60, 30.4), FindingCode.TOO_COLD));
        assertTrue(has(judge(30.4), FindingCode.TOO_COLD));
        assertTrue(has(judgeFor(200, 30.6), FindingCode.TOO_COLD));
        assertFalse(has(judgeFor(61, 30.7), FindingCode.TOO_COLD));
    }

    /** The relay's cycles carry the coldest probe across the limit and back for a while. */
    @Test
    void touchingTheColdLimitDoesNotEndAWarmUp() {
        judgeFor(100, 25);
        for (int cycle = 0; cycle < 20; cycle++) {
            judgeFor(120, 30.6);
            assertFalse(has(judgeFor(120, 30.4), FindingCode.TOO_COLD), "cycle " + cycle);
        }
    }

    @Test
    void aWarmUpThatTakesTooLongIsTooCold() {
        int seconds = (int) TooCold.WARM_UP_SECONDS;
        assertFalse(has(judgeFor(seconds, 25), FindingCode.TOO_COLD));
        assertTrue(has(judgeFor(61, 25), FindingCode.TOO_COLD));
    }

    @Test
    void aRaisedSetPointGivesTimeToGetThere() {
        guard.setPointChanged(new Temperature(29));
        judgeFor(901, 29);
        guard.setPointChanged(new Temperature(32));
        assertFalse(has(judgeFor(3600, 29), FindingCode.TOO_COLD));
        judgeFor(901, 32);
        coolTo(29, 32);
        assertTrue(has(judgeFor(61, 29), FindingCode.TOO_COLD));
    }

    /** Within minutes, and not at once as behind an opened door. */
    private void coolTo(double celsius, double fromCelsius) {
        for (double now = fromCelsius; now > celsius; now -= 0.0625) {
            judgeFor(30, now);
        }
    }

    /** Air that falls at once is an opened door, which has a finding of its own. */
    @Test
    void aShortLookInsideIsNotTooColdAndADoorLeftOpenIsToldAsSuch() {
        judgeFor(1000, 31);
        assertFalse(has(judgeFor(60, 28, 27.5, 27), FindingCode.TOO_COLD));
        GuardVerdict open = judgeFor(150, 28, 27.5, 27);
        assertFalse(has(open, FindingCode.TOO_COLD));
        assertTrue(has(open, FindingCode.DOOR_OPEN));
        assertTrue(has(judgeFor(1800, 28, 27.5, 27), FindingCode.TOO_COLD));
    }

    @Test
    void beingBlindNeitherRaisesNorClearsTooCold() {
        judgeFor(901, 31);
        coolTo(30, 31);
        assertTrue(has(judgeFor(61, 30), FindingCode.TOO_COLD));
        assertTrue(has(judgeFor(500, LOST), FindingCode.TOO_COLD));
    }

    @Test
    void aLostProbeIsNamed() {
        judgeFor(10, 31);
        assertFalse(has(judgeFor(2, 31, LOST, 31), FindingCode.PROBE_LOST));
        GuardVerdict verdict = judge(31, LOST, 31);
        Finding finding = finding(verdict, FindingCode.PROBE_LOST).orElseThrow();
        assertEquals("middle", finding.probe().orElseThrow().value());
        assertEquals(GuardState.ALLOWING, verdict.state());
        assertFalse(has(judgeFor(61, 31), FindingCode.PROBE_LOST));
    }

    @Test
    void twoLostProbesAreTwoFindings() {
        judgeFor(10, 31);
        GuardVerdict verdict = judgeFor(11, LOST, LOST, 31);
        assertEquals(
                2,
                verdict.findings().stream()
                        .filter(one -> one.code().equals(FindingCode.PROBE_LOST))
                        .count());
    }

    @Test
    void probesThatDisagreeForTheirTimeAreReportedUnlessAStoppedFanExplainsIt() {
        assertFalse(has(judgeFor(600, 31, 29, 31), FindingCode.PROBES_DISAGREE));
        GuardVerdict verdict = judge(31, 29, 31);
        assertTrue(has(verdict, FindingCode.PROBES_DISAGREE));
        assertFalse(has(verdict, FindingCode.FAN_STOPPED));
    }

    @Test
    void aWarmTopOverAColdBottomIsTheFan() {
        GuardVerdict verdict = judgeFor(601, 32.4, 31.5, 30.6);
        assertTrue(has(verdict, FindingCode.FAN_STOPPED));
        assertFalse(has(verdict, FindingCode.PROBES_DISAGREE));
        assertEquals(
                "top 32.40 °C, bottom 30.60 °C; allowed 1.50 K",
                finding(verdict, FindingCode.FAN_STOPPED).orElseThrow().evidence());
        assertTrue(has(judgeFor(200, 32.2, 31.5, 30.9), FindingCode.FAN_STOPPED));
        assertFalse(has(judgeFor(61, 32, 31.5, 30.9), FindingCode.FAN_STOPPED));
    }

    /** Heat drives the layers apart, so more is allowed while there is much of it. */
    @Test
    void atFullPowerThreeTimesTheDifferenceIsAllowed() {
        TickFacts heating = new TickFacts(1, true, List.of(), "", "");
        GuardVerdict verdict = judge(28, 27, 26);
        for (int i = 0; i < 5400; i++) {
            now += SECOND;
            double top = i < 1800 ? 27.4 : 30.7;
            verdict = guard.judge(state(now, top, 26.5, 26), heating, now);
        }
        assertFalse(has(verdict, FindingCode.FAN_STOPPED));
        for (int i = 0; i < 601; i++) {
            now += SECOND;
            verdict = guard.judge(state(now, 30.9, 27.5, 26), heating, now);
        }
        assertTrue(has(verdict, FindingCode.FAN_STOPPED));
    }

    @Test
    void aColdTopIsNotTheFan() {
        assertFalse(has(judgeFor(601, 30.6, 31.5, 32.4), FindingCode.FAN_STOPPED));
    }

    @Test
    void aValueThatStandsAtALimitDoesNotChatter() {
        judgeFor(10, 31.5);
        int changes = 0;
        boolean before = false;
        for (int i = 0; i < 7200; i++) {
            boolean present = has(judge(32.5 + (i % 3 - 1) * 0.0625), FindingCode.TOO_WARM);
            changes += present == before ? 0 : 1;
            before = present;
        }
        assertTrue(changes <= 1, changes + " changes");
    }

    @Test
    void theListOfFindingsIsTheSameObjectWhileNothingInItChanges() {
        judgeFor(10, 34);
        List<Finding> first = judge(34).findings();
        for (int i = 0; i < 30; i++) {
            assertSame(first, judge(34).findings());
        }
    }

    @Test
    void evidenceFollowsTheValuesEveryTenSeconds() {
        judgeFor(10, 31.5);
        judgeFor(61, 32.6, 31, 31);
        Finding before = finding(judge(33.0, 31, 31), FindingCode.TOO_WARM).orElseThrow();
        assertTrue(before.evidence().contains("32.60"));
        Finding after = finding(judgeFor(10, 33.0, 31, 31), FindingCode.TOO_WARM).orElseThrow();
        assertTrue(after.evidence().contains("33.00"));
        assertTrue(before.isSameTroubleAs(after));
        assertEquals(before.raisedAtNanos(), after.raisedAtNanos());
    }

    @Test
    void whatCouldNotBeSavedIsAFinding() {
        now += SECOND;
        TickFacts facts =
                new TickFacts(1, false, List.of(), "the latch could not be saved: full", "");
        assertTrue(has(guard.judge(state(now, 31), facts, now), FindingCode.STATE_NOT_SAVED));
    }
}
