package io.evenwarm.agent.loop;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.FallbackPlan;
import io.evenwarm.agent.plan.GuardPlan;
import io.evenwarm.agent.testing.MemoryStores;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.ProbePlace;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Heat at a fixed duty while no air probe is good, where the keeper allows it. */
final class BlindFallbackTest {

    private static final double LOST = Double.NaN;

    /** 100 W into 3 W/K: 33.3 K above the room at full power. */
    private static TestCabinet cabinet(double duty) {
        CabinetPlan plan =
                Plans.cabinet(
                        Plans.probe("top", ProbePlace.TOP),
                        Plans.probe("tub", ProbePlace.TUB),
                        Plans.probe("room", ProbePlace.AMBIENT));
        FallbackPlan fallback = new FallbackPlan(duty, 100, 3, 25);
        return new TestCabinet(
                new CabinetPlan(
                        plan.name(),
                        plan.probes(),
                        plan.setPoint(),
                        plan.limits(),
                        plan.control(),
                        new GuardPlan(1.5, 600, Optional.of(fallback)),
                        true,
                        true),
                new MemoryStores());
    }

    private static double shareOfAnHour(TestCabinet cabinet, double tub, double room) {
        int on = 0;
        for (int i = 0; i < 3600; i++) {
            on += cabinet.tickAt(LOST, tub, room).heaterOn() ? 1 : 0;
        }
        return on / 3600.0;
    }

    @Test
    void aBlindCabinetIsHeatedAtItsDuty() {
        TestCabinet cabinet = cabinet(0.2);
        cabinet.run(700, 31.6, 31, 18);
        assertEquals(0.2, shareOfAnHour(cabinet, 31, 18), 0.02);
        assertTrue(cabinet.has(FindingCode.BLIND));
        CabinetSnapshot last = cabinet.tickAt(LOST, 31, 18);
        assertEquals(GuardState.ALLOWING, last.guard());
        assertEquals(Optional.empty(), last.processValue());
    }

    /** (33.5 − 1 − 29.5) × 3 / 100 = 0.09. */
    @Test
    void aWarmRoomBoundsTheDuty() {
        TestCabinet cabinet = cabinet(0.2);
        cabinet.run(700, 31.6, 31, 29.5);
        assertEquals(0.09, shareOfAnHour(cabinet, 31, 29.5), 0.015);
        assertEquals(0, shareOfAnHour(cabinet, 31, 32.5));
    }

    /** (33.5 − 1 − 25) × 3 / 100 = 0.225. */
    @Test
    void withoutARoomProbeTheStatedWarmestRoomCounts() {
        TestCabinet cabinet = cabinet(0.5);
        cabinet.run(700, 31.6, 31, LOST);
        assertEquals(0.225, shareOfAnHour(cabinet, 31, LOST), 0.02);
    }

    @Test
    void aTubAtTheSetPointGetsNoBlindHeat() {
        TestCabinet cabinet = cabinet(0.2);
        cabinet.run(700, 31.6, 31, 18);
        assertEquals(0, shareOfAnHour(cabinet, 31.5, 18));
        assertEquals(GuardState.HOLDING, cabinet.tickAt(LOST, 31.5, 18).guard());
    }

    @Test
    void aCabinetThatNeverSawItsAirIsNotHeated() {
        TestCabinet cabinet = cabinet(0.2);
        assertEquals(0, shareOfAnHour(cabinet, 31, 18));
        assertFalse(cabinet.cutOffRelay.isEnergised());
    }

    @Test
    void aTripEndsBlindHeatToo() {
        TestCabinet cabinet = cabinet(0.2);
        cabinet.run(700, 31.6, 31, 18);
        cabinet.run(3, 34, 31, 18);
        assertEquals(0, shareOfAnHour(cabinet, 31, 18));
    }
}
