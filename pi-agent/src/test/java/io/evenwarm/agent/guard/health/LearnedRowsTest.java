package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.cabinet.CabinetObserver;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.testing.Plans;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Temperature;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.SortedMap;
import org.junit.jupiter.api.Test;

/** Keeping what was learned, and taking it back. */
final class LearnedRowsTest {

    private static final double SET_POINT = 31.5;
    private static final long SECOND = 1_000_000_000L;

    private final CabinetPlan plan = Plans.threeProbes();
    private final CabinetObserver observer = new CabinetObserver(plan);
    private final Random random = new Random(7);
    private double heat;
    private long now;

    /** A cabinet in few numbers: heat behind a lag warms the air, and its top most. */
    private void hours(CabinetHealth health, double hours, double level) {
        for (int second = 0; second < hours * 3600; second++) {
            now += SECOND;
            boolean isOn = now / SECOND % 120 < 40;
            heat += ((isOn ? 1 : 0) - heat) / 250;
            List<ProbeReading> readings = new ArrayList<>();
            for (int i = 0; i < plan.probes().size(); i++) {
                double celsius =
                        level
                                + 3 * (heat - 1.0 / 3)
                                - 0.5 * i * heat
                                + 0.02 * random.nextGaussian();
                readings.add(
                        new ProbeReading(
                                plan.probes().get(i).name(),
                                plan.probes().get(i).place(),
                                new Reading.Good(
                                        new Temperature(Math.rint(celsius * 16) / 16), now)));
            }
            health.take(observer.observe(readings), SET_POINT, isOn, 1, Interference.NONE);
        }
    }

    private static SortedMap<String, List<Double>> kept(CabinetHealth health) {
        LearnedRows rows = LearnedRows.writing();
        health.learned(rows);
        return rows.rows();
    }

    @Test
    void whatIsTakenBackIsAllThatWasKept() {
        CabinetHealth before = new CabinetHealth(plan);
        hours(before, 8, SET_POINT);
        SortedMap<String, List<Double>> rows = kept(before);
        CabinetHealth after = new CabinetHealth(plan);
        assertNotEquals(rows, kept(after));
        after.learned(LearnedRows.reading(rows));
        assertEquals(rows, kept(after));
    }

    @Test
    void keepingChangesNothing() {
        CabinetHealth health = new CabinetHealth(plan);
        hours(health, 8, SET_POINT);
        assertEquals(kept(health), kept(health));
        assertTrue(health.isWorthKeeping());
    }

    @Test
    void nearTheSetPointItCountsHalfAnHourAfterTheStart() {
        CabinetHealth before = new CabinetHealth(plan);
        hours(before, 8, SET_POINT);
        CabinetHealth after = new CabinetHealth(plan);
        after.recall(kept(before));
        hours(after, 0.45, SET_POINT);
        assertTrue(!after.isResponseLearned() && !after.isWorthKeeping());
        hours(after, 0.1, SET_POINT);
        assertTrue(after.isResponseLearned() && after.isLayeringLearned());
        assertEquals(before.responseKelvin(), after.responseKelvin(), 0.05);
    }

    @Test
    void afterAColdStartItCountsOnlyOnceWallsAndTubsAreWarmAgain() {
        CabinetHealth before = new CabinetHealth(plan);
        hours(before, 8, SET_POINT);
        double learned = before.responseKelvin();
        CabinetHealth after = new CabinetHealth(plan);
        after.recall(kept(before));
        hours(after, 0.1, SET_POINT - 3);
        hours(after, 9.8, SET_POINT);
        assertTrue(!after.isWorthKeeping());
        hours(after, 0.3, SET_POINT);
        assertTrue(after.isWorthKeeping());
        assertEquals(learned, after.responseKelvin(), 0.05);
    }
}
