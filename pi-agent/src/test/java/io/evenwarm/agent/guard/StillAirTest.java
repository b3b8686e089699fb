package io.evenwarm.agent.guard;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.cabinet.CabinetObserver;
import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Temperature;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The probes are top, middle and bottom. */
final class StillAirTest {

    private static final double CUT_OFF = 33.5;
    private static final int TOP = 0;

    private final CabinetPlan plan = Plans.threeProbes();
    private final TrustBook book = new TrustBook(plan);
    private final StillAir stillAir = new StillAir(plan);
    private double beyondUsualKelvin = Double.POSITIVE_INFINITY;

    private CabinetState state(double... celsius) {
        List<ProbeReading> readings = new ArrayList<>();
        for (int i = 0; i < celsius.length; i++) {
            ProbePlan probe = plan.probes().get(i);
            Reading reading = new Reading.Good(new Temperature(celsius[i]), 0);
            readings.add(new ProbeReading(probe.name(), probe.place(), reading));
        }
        return new CabinetObserver(plan).observe(List.copyOf(readings), book.trust());
    }

    private boolean holds(boolean isFanFound, double... celsius) {
        return stillAir.holds(state(celsius), book, isFanFound, beyondUsualKelvin, CUT_OFF, 1);
    }

    private void setTopAside() {
        book.setAside(TOP, FindingCode.PROBE_DRIFTING, state(31.5, 31.5, 31.5));
    }

    @Test
    void aStillFanIsHeatedByATopThatIsTheWarmestPlace() {
        assertFalse(holds(true, 32.5, 31, 29.5));
        assertFalse(holds(true, 31.2, 31.5, 31));
    }

    @Test
    void aTopThatIsColderThanWhatIsBelowDoesNotTellTheTop() {
        assertTrue(holds(true, 30.8, 31.5, 31));
        assertFalse(holds(false, 30.8, 31.5, 31));
    }

    @Test
    void aStillFanWhoseTopIsSetAsideGetsNoHeat() {
        setTopAside();
        assertTrue(holds(true, 32, 31, 30));
        assertFalse(holds(false, 32, 31, 30));
    }

    /** A liar costs 15 min. */
    @Test
    void aProbeThatWasSetAsideAndIsAtTheCutOffCostsATrialWithoutHeat() {
        setTopAside();
        for (int i = 1; i <= 900; i++) {
            assertTrue(holds(false, 33.6, 31.5, 31), "second " + i);
        }
        for (int i = 1; i < 6 * 3600; i++) {
            assertFalse(holds(false, 33.6, 31.5, 31), "second " + i);
        }
        assertTrue(holds(false, 33.6, 31.5, 31));
    }

    /** And then ever less of it: what keeps its lead for days is no air. */
    @Test
    void aLiarIsTriedTwiceAsLateEachTimeAndAtLeastOnceADay() {
        setTopAside();
        for (int hours : new int[] {6, 12, 24, 24}) {
            for (int i = 1; i <= 900; i++) {
                assertTrue(holds(false, 33.6, 31.5, 31), "second " + i);
                assertTrue(stillAir.isTrying());
            }
            for (int i = 1; i < hours * 3600; i++) {
                assertFalse(holds(false, 33.6, 31.5, 31), "second " + i);
                assertFalse(stillAir.isTrying());
            }
        }
        assertTrue(holds(false, 33.6, 31.5, 31));
    }

    @Test
    void layersThatAreAlwaysFarApartCostNothingAfterTheTrialAndThoseThatPartFartherAreHeldBack() {
        setTopAside();
        for (int i = 1; i <= 900; i++) {
            holds(false, 34, 32, 30.8);
        }
        assertTrue(holds(false, 34, 32, 30.8), "nothing was learned of this cabinet yet");
        beyondUsualKelvin = 0.1;
        assertFalse(holds(false, 34, 32, 30.8));
        beyondUsualKelvin = 0.6;
        assertTrue(holds(false, 34, 32, 30.8));
        assertFalse(stillAir.isTrying(), "that is no trial");
    }

    /** Hot air comes nearer to the others without heat, and is held there. */
    @Test
    void aProbeThatWasSetAsideAndComesNearerWithoutHeatIsHeldBelowTheCutOffEachTime() {
        setTopAside();
        for (int times = 0; times < 20; times++) {
            assertTrue(holds(false, 33.6, 31.5, 31));
            assertTrue(holds(false, 33.3, 31.5, 31));
            assertTrue(holds(false, 33.1, 31.5, 31));
            assertFalse(holds(false, 33.4, 31.5, 31));
        }
    }

    /** In a cabinet that loses much, a probe that reads too high falls with all others. */
    @Test
    void aProbeThatWasSetAsideAndFallsWithTheOthersIsLeftAlone() {
        setTopAside();
        assertTrue(holds(false, 33.6, 31.5, 31));
        for (int i = 0; i < 60; i++) {
            holds(false, 33.6 - i / 100.0, 31.5 - i / 100.0, 31 - i / 100.0);
        }
        assertFalse(holds(false, 33.6, 31.5, 31));
    }

    /** Its readings jump over the cut-off and back: that is no cooling. */
    @Test
    void aProbeThatWasSetAsideAndStandsAboutTheCutOffCostsOneTrial() {
        setTopAside();
        int held = 0;
        for (int i = 0; i < 6 * 3600; i++) {
            held += holds(false, i % 3 == 0 ? 33.55 : 33.45, 31.5, 31) ? 1 : 0;
        }
        assertTrue(held <= 900, "held for " + held + " s");
    }

    /** Nor do its peaks keep heat away where the layers part. */
    @Test
    void aNoisyProbesPeaksCostNoTrialAndAMeanAtTheCutOffDoes() {
        holds(false, 32, 31.5, 30.9);
        book.setAside(TOP, FindingCode.PROBE_NOISY, state(31.5, 31.5, 31.5));
        for (int i = 0; i < 3600; i++) {
            assertFalse(holds(false, i % 6 < 3 ? 35 : 29, 31.5, 30.4), "second " + i);
        }
        for (int i = 0; i < 300; i++) {
            holds(false, i % 6 < 3 ? 37 : 31, 31.5, 31);
        }
        assertTrue(holds(false, 34, 31.5, 31));
    }

    @Test
    void aProbeThatHadItsTrialWhenItWasHotAloneHasNoOther() {
        book.setAside(TOP, LoneHotProbe.CAUSE, state(31.5, 31.5, 31.5));
        assertFalse(holds(false, 33.6, 31.5, 31));
    }
}
