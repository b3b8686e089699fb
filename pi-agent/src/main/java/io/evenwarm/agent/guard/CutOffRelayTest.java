package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import java.util.List;
import java.util.Locale;

/**
 * Tries once a day whether the cut-off relay still interrupts. A relay whose contacts have welded
 * looks like a sound one until the day when it must stop a welded heater relay.
 *
 * <p>At a harmless moment it is opened while the heater's relay goes on to be switched as control
 * asks. A relay that works lets no heat through, and the air falls; with one that is stuck, control
 * goes on to hold the air as before. So heat is only ever withheld, for minutes that no egg
 * notices, and never added. The relay's own cycles are averaged out.
 *
 * <ul>
 *   <li>The air falls by {@value #FALL_KELVIN} K: it works, and is closed at once.
 *   <li>After {@value #LONGEST_SECONDS} s the air has fallen by less than {@value #NO_FALL_KELVIN}
 *       K though the heater was commanded for a good share of that time: it seems stuck. Only a
 *       second such test in a row makes the finding.
 *   <li>All else is inconclusive, and tried again: the heater was hardly asked for, the air fell as
 *       behind an open door, somebody works at the cabinet, heat is held back for a cause.
 * </ul>
 */
final class CutOffRelayTest {

    static final double FIRST_AFTER_SECONDS = 12 * 3600;
    static final double EACH_SECONDS = 24 * 3600;
    static final double AGAIN_SECONDS = 1800;

    /** A room so warm that next to no heat is needed stays so for hours. */
    static final double INCONCLUSIVE_AGAIN_SECONDS = 3 * 3600;

    static final double FALL_KELVIN = 0.15;
    static final double NO_FALL_KELVIN = 0.08;

    /** A frozen probe among sound ones hides a part of the fall. */
    static final double PROBE_FALL_KELVIN = 0.12;

    static final double LONGEST_SECONDS = 1200;

    /** With less heat than this the air would hardly miss it. */
    static final double LEAST_SHARE = 0.03;

    /** A heater that is on nearly always has no calm. */
    static final double MOST_SHARE = 0.9;

    /** Nearer than this to the set point, on average, is calm. */
    private static final double CALM_KELVIN = 0.25;

    /** A fall within the first minute is an open door: no shut cabinet falls so fast. */
    private static final double DOOR_SECONDS = 60;

    private static final double FAST_SECONDS = 90;
    private static final double SLOW_SECONDS = 600;
    private static final double PROBE_SECONDS = 300;
    private static final double STEADY_SECONDS = 1800;
    private static final double LATE_SECONDS = 600;
    private static final double NANOS_PER_SECOND = 1e9;
    private static final int SUSPICIONS = 2;

    private boolean hasStarted;
    private long dueAtNanos;
    private boolean hasAverages;
    private double fast;
    private double slow;
    private final boolean[] isAir;
    private final double[] probeSlow;
    private final double[] probeBefore;
    private double calmSeconds;

    private boolean isRunning;
    private boolean hasEndedWithoutFall;
    private double testSeconds;
    private double heatSeconds;
    private double beforeCelsius;
    private double lateSum;
    private int lateCount;

    private int suspicions;
    private boolean isStuck;
    private String evidence = "";

    CutOffRelayTest(CabinetPlan plan) {
        List<ProbePlan> probes = plan.probes();
        probeSlow = new double[probes.size()];
        probeBefore = new double[probes.size()];
        isAir = new boolean[probes.size()];
        for (int i = 0; i < isAir.length; i++) {
            ProbePlan probe = probes.get(i);
            isAir[i] = probe.sensor().isThermometer() && probe.place().kind().isAir();
        }
    }

    /** Whether two tests in a row found no fall. */
    boolean isStuck() {
        return isStuck;
    }

    /** What the last test that seemed stuck showed. */
    String evidence() {
        return evidence;
    }

    /**
     * Whether a test ended in the last tick without the fall that shows that no heat came: then
     * nobody knows whether it came, and whoever supposed that it did not must begin anew.
     */
    boolean hasEndedWithoutFall() {
        return hasEndedWithoutFall;
    }

    /** Whether a test is under way. */
    boolean isRunning() {
        return isRunning;
    }

    /**
     * Takes a tick in.
     *
     * @param isCalm whether nothing speaks against a test: settled, heat allowed, nothing found,
     *     nobody at work, door shut, not blind
     * @param heatShare of the last minutes in which the heater was on
     * @return whether the cut-off relay shall be open in this tick
     */
    boolean update(
            CabinetState state,
            TickFacts facts,
            boolean isCalm,
            double heatShare,
            double setPointCelsius,
            long nowNanos) {
        hasEndedWithoutFall = false;
        if (!hasStarted) {
            hasStarted = true;
            dueIn(FIRST_AFTER_SECONDS, nowNanos);
        }
        if (!isCalm || state.isBlind()) {
            calmSeconds = 0;
            hasAverages = false;
            end(AGAIN_SECONDS, nowNanos);
            return false;
        }
        double elapsed = facts.secondsSinceLastTick();
        average(state, elapsed);
        if (isRunning) {
            run(facts.wasHeaterOn(), elapsed, nowNanos);
            return isRunning;
        }
        calmSeconds += elapsed;
        if (nowNanos - dueAtNanos >= 0
                && calmSeconds >= STEADY_SECONDS
                && heatShare >= LEAST_SHARE
                && heatShare <= MOST_SHARE
                && Math.abs(slow - setPointCelsius) < CALM_KELVIN
                && Math.abs(fast - slow) < FALL_KELVIN / 2) {
            isRunning = true;
            testSeconds = 0;
            heatSeconds = 0;
            lateSum = 0;
            lateCount = 0;
            beforeCelsius = slow;
            System.arraycopy(probeSlow, 0, probeBefore, 0, probeSlow.length);
        }
        return isRunning;
    }

    private void average(CabinetState state, double elapsed) {
        double celsius = state.processCelsius();
        if (!hasAverages) {
            fast = celsius;
            slow = celsius;
        }
        for (int i = 0; i < isAir.length; i++) {
            if (isAir[i] && state.isGood(i)) {
                double value = state.celsius(i);
                probeSlow[i] =
                        hasAverages
                                ? probeSlow[i]
                                        + (value - probeSlow[i])
                                                * elapsed
                                                / (PROBE_SECONDS + elapsed)
                                : value;
            }
        }
        hasAverages = true;
        fast += (celsius - fast) * elapsed / (FAST_SECONDS + elapsed);
        slow += (celsius - slow) * elapsed / (SLOW_SECONDS + elapsed);
    }

    private void run(boolean wasHeaterOn, double elapsed, long nowNanos) {
        testSeconds += elapsed;
        heatSeconds += wasHeaterOn ? elapsed : 0;
        if (testSeconds >= LONGEST_SECONDS - LATE_SECONDS) {
            lateSum += fast;
            lateCount++;
        }
        if (beforeCelsius - fast >= FALL_KELVIN) {
            boolean isDoor = testSeconds < DOOR_SECONDS;
            if (!isDoor) {
                suspicions = 0;
                isStuck = false;
            }
            end(isDoor ? AGAIN_SECONDS : EACH_SECONDS, nowNanos);
            hasEndedWithoutFall = isDoor;
        } else if (testSeconds >= LONGEST_SECONDS) {
            conclude(nowNanos);
        }
    }

    private void conclude(long nowNanos) {
        double fall = beforeCelsius - lateSum / lateCount;
        double share = heatSeconds / testSeconds;
        if (Math.abs(fall) >= NO_FALL_KELVIN || hasAnyFallen() || share < LEAST_SHARE) {
            end(INCONCLUSIVE_AGAIN_SECONDS, nowNanos);
            return;
        }
        suspicions++;
        isStuck = suspicions >= SUSPICIONS;
        evidence =
                String.format(
                        Locale.ROOT,
                        "opened for %.0f min while the heater was commanded on for %.0f %% of it,"
                                + " and the air stayed within %.2f K",
                        testSeconds / 60,
                        share * 100,
                        Math.abs(fall));
        end(isStuck ? EACH_SECONDS : AGAIN_SECONDS, nowNanos);
    }

    private boolean hasAnyFallen() {
        for (int i = 0; i < isAir.length; i++) {
            if (isAir[i] && probeBefore[i] - probeSlow[i] >= PROBE_FALL_KELVIN) {
                return true;
            }
        }
        return false;
    }

    private void end(double againInSeconds, long nowNanos) {
        if (isRunning) {
            isRunning = false;
            hasEndedWithoutFall = true;
            calmSeconds = 0;
            dueIn(againInSeconds, nowNanos);
        }
    }

    private void dueIn(double seconds, long nowNanos) {
        dueAtNanos = nowNanos + (long) (seconds * NANOS_PER_SECOND);
    }
}
