package io.evenwarm.agent.cabinet;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

final class CabinetObserverTest {

    private static final double LOST = Double.NaN;

    private static CabinetState observe(CabinetPlan plan, double... celsius) {
        List<ProbeReading> readings = new ArrayList<>();
        for (int i = 0; i < celsius.length; i++) {
            ProbePlan probe = plan.probes().get(i);
            Reading reading =
                    Double.isNaN(celsius[i])
                            ? new Reading.Bad(Reading.Doubt.STALE, 0)
                            : new Reading.Good(new Temperature(celsius[i]), 0);
            readings.add(new ProbeReading(probe.name(), probe.place(), reading));
        }
        return new CabinetObserver(plan).observe(List.copyOf(readings));
    }

    @Test
    void theProcessValueOfEvenAirIsTheMeanOfTheGoodAirProbes() {
        CabinetState state = observe(Plans.threeProbes(), 31.5, 31.2, 30.9);
        assertEquals(31.2, state.processCelsius(), 1e-12);
        assertEquals(0.6, state.spreadKelvin(), 1e-12);
        assertEquals(0, state.warmestAir());
        assertEquals(2, state.coldestAir());
    }

    @Test
    void lostProbesDoNotCount() {
        CabinetState state = observe(Plans.threeProbes(), 31.5, LOST, 30.9);
        assertEquals(31.2, state.processCelsius(), 1e-12);
        assertFalse(state.isGood(1));
        assertThrows(IllegalStateException.class, () -> state.celsius(1));
    }

    @Test
    void tubAndRoomDoNotSteer() {
        CabinetPlan plan =
                Plans.cabinet(
                        Plans.probe("top", ProbePlace.TOP),
                        Plans.probe("tub", ProbePlace.TUB),
                        Plans.probe("room", ProbePlace.AMBIENT));
        CabinetState state = observe(plan, 31, 40, 10);
        assertEquals(31, state.processCelsius());
        assertEquals(0, state.spreadKelvin());
        assertTrue(state.isGood(1));
        assertTrue(observe(plan, LOST, 31, 20).isBlind());
    }

    /** Mean 31, warmest 34: 34 less the 1 K that it may lead by. */
    @Test
    void theWarmestProbeLimitsWhereAirIsUneven() {
        assertEquals(33, observe(Plans.threeProbes(), 34, 31, 28).processCelsius(), 1e-12);
    }

    @Test
    void oneProbeThatLiesUpwardsPullsByTwoKelvinAtMost() {
        CabinetState state = observe(Plans.threeProbes(), 60, 31, 31);
        assertEquals((60 + 31 + 31) / 3.0 + 2, state.processCelsius(), 1e-12);
    }

    /** With 2 K above the mean as the bound, 35 would count for 33, and control would heat on. */
    @Test
    void oneProbeThatLiesDownwardsDoesNotHeatTheOthers() {
        assertEquals(31.5, observe(Plans.threeProbes(), 32.5, 32.5, 14).processCelsius(), 1e-12);
        assertEquals(34, observe(Plans.threeProbes(), 14, 35, 35).processCelsius(), 1e-12);
    }

    @Test
    void theProcessValueDoesNotStepWhereTheWarmestTakesOver() {
        double before = observe(Plans.threeProbes(), 32.4999, 31, 31).processCelsius();
        double after = observe(Plans.threeProbes(), 32.5001, 31, 31).processCelsius();
        assertEquals(before, after, 1e-3);
    }

    @Test
    void theGuardsOwnProbeSteersOnlyWhenItIsTheLast() {
        CabinetPlan plan =
                Plans.cabinet(
                        Plans.probe("top", ProbePlace.TOP),
                        Plans.guardProbe("guard", ProbePlace.TOP));
        assertEquals(31, observe(plan, 31, 33).processCelsius());
        assertEquals(1, observe(plan, 31, 33).warmestAir());
        assertEquals(33, observe(plan, LOST, 33).processCelsius());
    }

    @Test
    void withNoGoodAirProbeNothingIsKnown() {
        CabinetState state = observe(Plans.threeProbes(), LOST, LOST, LOST);
        assertTrue(state.isBlind());
        assertThrows(IllegalStateException.class, state::processCelsius);
        assertThrows(IllegalStateException.class, state::spreadKelvin);
        assertThrows(IllegalStateException.class, state::warmestAir);
        assertThrows(IllegalStateException.class, state::coldestAir);
    }

    @Test
    void anUncertainReadingOrAHumidityIsNoTemperature() {
        CabinetPlan plan = Plans.threeProbes();
        List<Reading> readings =
                List.of(
                        new Reading.Uncertain(new Temperature(50), Reading.Doubt.TOO_FAST, 0),
                        new Reading.Good(new RelativeHumidity(90), 0),
                        new Reading.Good(new Temperature(31), 0));
        List<ProbeReading> all = new ArrayList<>();
        for (int i = 0; i < 3; i++) {
            ProbePlan probe = plan.probes().get(i);
            all.add(new ProbeReading(probe.name(), probe.place(), readings.get(i)));
        }
        CabinetState state = new CabinetObserver(plan).observe(List.copyOf(all));
        assertEquals(31, state.processCelsius());
        assertEquals(2, state.warmestAir());
    }
}
