package io.evenwarm.agent.control;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

final class TimeProportionedRelayTest {

    /** What a relay did over a run. */
    private static final class Tally {
        int onSeconds;
        int operations;
        int shortestOn = Integer.MAX_VALUE;
        int shortestOff = Integer.MAX_VALUE;
        private int since;
        private boolean on;
        private boolean hasSwitched;

        void add(boolean next) {
            if (next != on) {
                if (hasSwitched || on) {
                    if (on) {
                        shortestOn = Math.min(shortestOn, since);
                    } else {
                        shortestOff = Math.min(shortestOff, since);
                    }
                }
                hasSwitched = true;
                operations += next ? 1 : 0;
                on = next;
                since = 0;
            }
            since++;
            onSeconds += next ? 1 : 0;
        }
    }

    private interface DutyAt {
        double duty(int second);
    }

    private static Tally run(TimeProportionedRelay relay, int seconds, DutyAt duties) {
        Tally tally = new Tally();
        boolean on = false;
        for (int second = 0; second < seconds; second++) {
            on = relay.step(duties.duty(second), 1, on);
            tally.add(on);
        }
        return tally;
    }

    /** Time proportioning by its definition: duty = time on / period. */
    @Test
    void dutyIsTimeOnOverPeriod() {
        double[][] periodDutyOn = {{120, 0.5, 60}, {100, 0.4, 40}, {20, 0.5, 10}};
        for (double[] row : periodDutyOn) {
            Tally tally = run(new TimeProportionedRelay(row[0], 2, 2), 7200, s -> row[1]);
            assertEquals(7200 * row[1], tally.onSeconds, 1);
            assertEquals(7200 / row[0], tally.operations, 0);
            assertEquals(row[2], tally.shortestOn, 0);
        }
    }

    @Test
    void theMeanDutyIsHonouredWhateverItsFractionAndItsMinimumTimes() {
        for (double duty = 0; duty <= 1.0001; duty += 0.013) {
            double asked = Math.min(1, duty);
            Tally tally = run(new TimeProportionedRelay(140, 12, 12), 86_400, s -> asked);
            assertEquals(asked, tally.onSeconds / 86_400.0, 0.001, "duty " + asked);
            assertTrue(tally.shortestOn >= 12, asked + ": on for " + tally.shortestOn);
            assertTrue(tally.shortestOff >= 12, asked + ": off for " + tally.shortestOff);
            assertTrue(tally.operations <= 618, asked + ": " + tally.operations);
        }
    }

    @Test
    void dutyThatWandersIsHonouredTooAndNeverSwitchesMoreThanOnceAWindow() {
        for (long seed = 1; seed <= 50; seed++) {
            Random random = new Random(seed);
            double[] duty = {random.nextDouble()};
            double[] asked = {0};
            Tally tally =
                    run(
                            new TimeProportionedRelay(140, 12, 12),
                            86_400,
                            second -> {
                                duty[0] =
                                        Math.max(
                                                0,
                                                Math.min(
                                                        1, duty[0] + 0.02 * random.nextGaussian()));
                                asked[0] += duty[0];
                                return duty[0];
                            });
            assertEquals(asked[0], tally.onSeconds, 160, "seed " + seed);
            assertTrue(tally.shortestOn >= 12, "seed " + seed);
            assertTrue(tally.shortestOff >= 12, "seed " + seed);
            assertTrue(tally.operations <= 618, "seed " + seed + ": " + tally.operations);
        }
    }

    @Test
    void aDutyBelowTheMinimumWaitsUntilItIsWorthSwitching() {
        Tally tally = run(new TimeProportionedRelay(140, 12, 12), 140 * 100, s -> 0.03);
        assertEquals(0.03 * 14_000, tally.onSeconds, 12);
        assertTrue(
                tally.operations <= 36, "4.2 s a window make 12 s in three: " + tally.operations);
    }

    @Test
    void aFallingDutyEndsTheTimeOnAtOnce() {
        TimeProportionedRelay relay = new TimeProportionedRelay(140, 12, 12);
        Tally tally = run(relay, 40, s -> s < 30 ? 0.8 : 0);
        assertEquals(30, tally.onSeconds, 1);
    }

    @Test
    void whatTheGateWithheldIsNotPaidBackForEver() {
        TimeProportionedRelay relay = new TimeProportionedRelay(140, 12, 12);
        for (int second = 0; second < 3600; second++) {
            relay.step(0.5, 1, false);
        }
        Tally after = run(relay, 1400, s -> 0.5);
        assertTrue(after.onSeconds <= 700 + 140, "paid back " + after.onSeconds);
    }

    /** An open door asks for full heat just after the window's time on; when it may, it is warm. */
    @Test
    void heatThatIsNoLongerAskedForIsNotGivenAfterAll() {
        TimeProportionedRelay relay = new TimeProportionedRelay(120, 10, 10);
        // 10 % gives 12 s on; from the 20th second on full heat is asked for, and has to wait.
        Tally before = run(relay, 130, s -> s < 20 ? 0.1 : 1);
        assertEquals(12 + 10, before.onSeconds, 2);
        Tally after = new Tally();
        boolean on = true;
        for (int second = 0; second < 110; second++) {
            on = relay.step(0, 1, on);
            after.add(on);
        }
        assertTrue(after.onSeconds <= 10, "on for " + after.onSeconds + " s more at no duty");
    }

    @Test
    void idlingOwesNothing() {
        TimeProportionedRelay relay = new TimeProportionedRelay(140, 12, 12);
        assertTrue(relay.step(0.5, 1, false));
        for (int second = 0; second < 600; second++) {
            relay.idle(1, false);
        }
        assertFalse(relay.step(0, 1, false));
        Tally after = run(relay, 1400, s -> 0.5);
        assertEquals(700, after.onSeconds, 2);
    }
}
