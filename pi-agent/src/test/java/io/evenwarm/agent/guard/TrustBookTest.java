package io.evenwarm.agent.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.cabinet.CabinetObserver;
import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Temperature;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

final class TrustBookTest {

    private static final double LOST = Double.NaN;

    private final CabinetPlan plan =
            Plans.cabinet(
                    Plans.probe("top", ProbePlace.TOP),
                    Plans.probe("bottom", ProbePlace.BOTTOM),
                    Plans.probe("tub", ProbePlace.TUB));
    private final TrustBook book = new TrustBook(plan);

    private CabinetState state(double... celsius) {
        List<ProbeReading> readings = new ArrayList<>();
        for (int i = 0; i < celsius.length; i++) {
            ProbePlan probe = plan.probes().get(i);
            Reading reading =
                    Double.isNaN(celsius[i])
                            ? new Reading.Bad(Reading.Doubt.STALE, 0)
                            : new Reading.Good(new Temperature(celsius[i]), 0);
            readings.add(new ProbeReading(probe.name(), probe.place(), reading));
        }
        return new CabinetObserver(plan).observe(List.copyOf(readings), book.trust());
    }

    @Test
    void aProbeSetAsideSteersNothingAndKeepsItsReading() {
        assertEquals(33, state(33, 31, 31).celsius(state(33, 31, 31).warmestAir()));
        assertTrue(book.setAside(0, FindingCode.PROBE_DRIFTING, state(33, 31, 31)));
        CabinetState state = state(33, 31, 31);
        assertEquals(31, state.processCelsius());
        assertEquals(1, state.warmestAir());
        assertEquals(1, state.trustedAirProbes());
        assertTrue(state.isGood(0));
        assertFalse(state.isTrusted(0));
        assertEquals(33, state.celsius(0));
    }

    @Test
    void itIsBelievedAgainOnlyWhenNoCauseIsLeft() {
        CabinetState state = state(33, 31, 31);
        book.setAside(0, FindingCode.PROBE_DRIFTING, state);
        book.setAside(0, FindingCode.PROBE_FROZEN, state);
        book.setAside(0, FindingCode.PROBE_FROZEN, state);
        assertEquals(List.of(FindingCode.PROBE_DRIFTING, FindingCode.PROBE_FROZEN), book.causes(0));
        book.restore(0, FindingCode.PROBE_FROZEN);
        assertFalse(book.isTrusted(0));
        book.restore(0, FindingCode.PROBE_NOISY);
        assertFalse(book.isTrusted(0));
        book.restore(0, FindingCode.PROBE_DRIFTING);
        assertTrue(book.isTrusted(0));
    }

    @Test
    void theLastBelievedAirProbeIsNeverSetAsideAndATubIsNoneOfThem() {
        assertTrue(book.setAside(2, FindingCode.PROBE_FROZEN, state(31, 31, 31)));
        assertTrue(book.setAside(0, FindingCode.PROBE_FROZEN, state(31, 31, 31)));
        assertFalse(book.setAside(1, FindingCode.PROBE_FROZEN, state(31, 31, 31)));
        assertTrue(book.isTrusted(1));
        assertTrue(book.setAside(0, FindingCode.PROBE_DRIFTING, state(31, 31, 31)));
    }

    @Test
    void aLostProbeIsNoReasonToSetTheOtherAside() {
        assertFalse(book.setAside(0, FindingCode.PROBE_FROZEN, state(31, LOST, 31)));
        assertTrue(book.isTrusted(0));
    }

    @Test
    void whenTheLastBelievedProbeIsLostTheLiarDoesNotComeBack() {
        book.setAside(0, FindingCode.PROBE_FALLEN_OUT, state(20, 31, 31));
        assertTrue(state(20, LOST, 31).isBlind());
        assertEquals(0, state(20, LOST, 31).trustedAirProbes());
    }
}
