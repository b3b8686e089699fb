package io.evenwarm.agent.guard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.guard.health.CabinetHealth;
import io.evenwarm.agent.guard.health.LearnedRows;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.agent.port.Learned;
import io.evenwarm.agent.testing.Plans;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;

/** What was learned counts only for the cabinet that it was learned of. */
final class LearnedBeforeTest {

    private final CabinetPlan plan = Plans.threeProbes();
    private final String about = new LearnedBefore(plan, Optional.empty()).about();

    private static SortedMap<String, List<Double>> rows(CabinetPlan of) {
        LearnedRows rows = LearnedRows.writing();
        new CabinetHealth(of).learned(rows);
        new FanTurns().learned(rows.of(Watches.FAN_ROWS));
        return rows.rows();
    }

    private Optional<String> refusal(String of, SortedMap<String, List<Double>> rows) {
        return new Guard(plan, new Latch.Clear(), Optional.of(new Learned(of, rows)))
                .learnedRefusal();
    }

    @Test
    void ofTheSameProbesItIsTaken() {
        assertEquals(Optional.empty(), refusal(about, rows(plan)));
    }

    @Test
    void ofOtherProbesItIsRefusedAndBothAreNamed() {
        String refusal = refusal("one at TOP", rows(plan)).orElseThrow();
        assertTrue(refusal.contains("one at TOP"), refusal);
        assertTrue(refusal.contains(about), refusal);
    }

    @Test
    void withARowTooFewItIsRefusedByName() {
        SortedMap<String, List<Double>> rows = new TreeMap<>(rows(plan));
        rows.remove("heat.kelvin");
        assertEquals(
                Optional.of("expected 1 numbers of heat.kelvin but found none"),
                refusal(about, rows));
    }

    @Test
    void withACountThatNoneCanBeItIsRefused() {
        SortedMap<String, List<Double>> rows = new TreeMap<>(rows(plan));
        rows.put("heat.chosen", List.of(17.0));
        assertEquals(Optional.of("heat.chosen must be -1 to 3 but is 17.0"), refusal(about, rows));
    }

    @Test
    void aNewGuardHasNothingWorthKeeping() {
        assertEquals(Optional.empty(), new Guard(plan, new Latch.Clear()).learned());
    }
}
