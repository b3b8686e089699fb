package io.evenwarm.agent.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import java.util.List;
import org.junit.jupiter.api.Test;

/** What a cold cabinet's finding says that the agent does. */
final class HeatingWordsTest {

    private final CabinetPlan plan = Plans.threeProbes();

    private String actionWhenCold(Latch latch, TickFacts facts) {
        GuardRig rig = new GuardRig(plan, latch);
        rig.facts = facts;
        rig.judgeFor(901, 31);
        for (double now = 31; now > 30; now -= 0.0625) {
            rig.judgeFor(30, now);
        }
        rig.judgeFor(62, 30);
        Finding finding = rig.finding(FindingCode.TOO_COLD).orElseThrow();
        return finding.action();
    }

    @Test
    void aColdCabinetIsHeatedAsControlAsks() {
        assertEquals(
                "heats as much as control asks for; no limit is moved",
                actionWhenCold(new Latch.Clear(), TickFacts.QUIET));
    }

    @Test
    void aTrippedCabinetIsNotSaidToHeat() {
        assertEquals(
                "nothing: heater off until a person resets the cut-off",
                actionWhenCold(new Latch.Tripped("by the test"), TickFacts.QUIET));
    }

    @Test
    void aCabinetWhoseHeatIsHeldBackIsNotSaidToHeat() {
        assertEquals(
                "holds heat back until its cause goes; another finding names it",
                actionWhenCold(
                        new Latch.Clear(), new TickFacts(1, false, List.of(), "", "by the test")));
    }
}
