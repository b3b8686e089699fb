package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.cabinet.CabinetObserver;
import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Temperature;
import java.util.List;
import org.junit.jupiter.api.Test;

/** How long a cabinet makes good for an opening. */
final class RecoveryTest {

    private static final long SECOND = 1_000_000_000L;

    private final CabinetPlan plan = Plans.threeProbes();
    private final CabinetHealth health = new CabinetHealth(plan);
    private final CabinetObserver observer = new CabinetObserver(plan);
    private long now;

    private double heat = 1 / 3.0;
    private double inAir = 1 / 3.0;
    private double worstDead;

    /** Air that answers to a third of full heat, commanded all the time. */
    private void cycles(int seconds, boolean isTested, boolean doesHeatCome) {
        for (int i = 0; i < seconds; i++) {
            now += SECOND;
            boolean isOn = now / SECOND % 120 < 40;
            heat += ((isOn && doesHeatCome ? 1 : 0) - heat) / 130;
            inAir += (heat - inAir) / 60;
            double air = 31.5 + 4 * (inAir - 1 / 3.0);
            health.take(
                    state(air),
                    31.5,
                    isOn,
                    1,
                    isTested ? Interference.RELAY_TESTED : Interference.NONE);
            worstDead += health.isHeaterDead() ? 1 : 0;
        }
    }

    @Test
    void aTestedCutOffRelaySaysNothingOfTheHeaterWhetherItWorksOrNot() {
        for (boolean doesHeatCome : new boolean[] {false, true}) {
            cycles(6 * 3600, false, true);
            cycles(300, true, doesHeatCome);
            cycles(2 * 3600, false, true);
            assertEquals(0, worstDead, "heat came through the relay: " + doesHeatCome);
        }
    }

    @Test
    void aHeaterThatDiesAfterTheTestIsFound() {
        cycles(6 * 3600, false, true);
        cycles(300, true, false);
        cycles(900, false, true);
        cycles(1200, false, false);
        assertTrue(worstDead > 0);
    }

    private CabinetState state(double celsius) {
        List<ProbeReading> readings =
                plan.probes().stream()
                        .map(
                                probe ->
                                        new ProbeReading(
                                                probe.name(),
                                                probe.place(),
                                                new Reading.Good(new Temperature(celsius), now)))
                        .toList();
        return observer.observe(readings);
    }

    private void seconds(int seconds, Interference interference) {
        for (int i = 0; i < seconds; i++) {
            now += SECOND;
            health.take(state(31.5), 31.5, i % 120 < 40, 1, interference);
        }
    }

    @Test
    void aLookDoesNotWarmTheTubsOfTheReloadingBefore() {
        seconds(600, Interference.HANDS_INSIDE);
        seconds(1200, Interference.NONE);
        seconds(20, Interference.HANDS_INSIDE);
        seconds(5 * 3600, Interference.NONE);
        assertTrue(health.isRecovering());
        seconds(2 * 3600, Interference.NONE);
        assertFalse(health.isRecovering());
    }

    @Test
    void aLookAloneIsSoonMadeGood() {
        seconds(600, Interference.NONE);
        seconds(20, Interference.HANDS_INSIDE);
        seconds(1700, Interference.NONE);
        assertTrue(health.isRecovering());
        seconds(1200, Interference.NONE);
        assertFalse(health.isRecovering());
    }

    @Test
    void onlyWorkMayHavePutColdTubsIn() {
        Recovery recovery = new Recovery();
        for (int block = 0; block < 3; block++) {
            recovery.take(false, true);
        }
        recovery.take(false, false);
        assertTrue(recovery.isGoingOn());
        assertFalse(recovery.isAfterWork(), "a look of half a minute");
        for (int block = 0; block < 3; block++) {
            recovery.take(true, false);
        }
        recovery.take(false, false);
        assertFalse(recovery.isAfterWork(), "one that the door's switch tells");
        for (int block = 0; block < 19; block++) {
            recovery.take(false, true);
        }
        recovery.take(false, false);
        assertTrue(recovery.isAfterWork(), "over three minutes");
        while (recovery.isGoingOn()) {
            assertTrue(recovery.isAfterWork());
            recovery.take(false, false);
        }
        assertFalse(recovery.isAfterWork(), "made good");
    }
}
