package io.evenwarm.agent.guard.health;

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

    private void seconds(int seconds, CabinetHealth.Interference interference) {
        for (int i = 0; i < seconds; i++) {
            now += SECOND;
            List<ProbeReading> readings =
                    plan.probes().stream()
                            .map(
                                    probe ->
                                            new ProbeReading(
                                                    probe.name(),
                                                    probe.place(),
                                                    new Reading.Good(new Temperature(31.5), now)))
                            .toList();
            CabinetState state = observer.observe(readings);
            health.take(state, 31.5, i % 120 < 40, 1, interference);
        }
    }

    @Test
    void aLookDoesNotWarmTheTubsOfTheReloadingBefore() {
        seconds(600, CabinetHealth.Interference.HANDS_INSIDE);
        seconds(1200, CabinetHealth.Interference.NONE);
        seconds(20, CabinetHealth.Interference.HANDS_INSIDE);
        seconds(3 * 3600, CabinetHealth.Interference.NONE);
        assertTrue(health.isRecovering());
        seconds(3 * 3600, CabinetHealth.Interference.NONE);
        assertFalse(health.isRecovering());
    }

    @Test
    void aLookAloneIsSoonMadeGood() {
        seconds(600, CabinetHealth.Interference.NONE);
        seconds(20, CabinetHealth.Interference.HANDS_INSIDE);
        seconds(1700, CabinetHealth.Interference.NONE);
        assertTrue(health.isRecovering());
        seconds(1200, CabinetHealth.Interference.NONE);
        assertFalse(health.isRecovering());
    }
}
