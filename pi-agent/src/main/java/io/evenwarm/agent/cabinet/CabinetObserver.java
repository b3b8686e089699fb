package io.evenwarm.agent.cabinet;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Temperature;
import java.util.List;

/**
 * Makes one tick's readings into the cabinet's state. A pure function of the readings and of which
 * probes may be believed: below, a good probe is one with a good reading that guard did not set
 * aside.
 *
 * <p><b>The process value</b> is the mean of the good air probes, limited by the warmest of them:
 *
 * <pre>{@code min(max(mean, warmest - 1 K), max(mean, median) + 2 K)}</pre>
 *
 * While the air is even that is the mean. Where a fan has stopped and the top runs away from the
 * bottom, control steers by the top, so that no shelf gets much warmer than the set point; the
 * bottom goes cold, which eggs bear for hours and heat they do not. The second bound keeps one
 * probe that lies upwards from taking the cabinet more than 2 K further down than the mean would.
 * It stands on the median where that is higher: of three probes one that lies downwards, or fell
 * out into the room, would draw the mean so far down that the others were heated to the cut-off.
 *
 * <p><b>The guard's own probe does not steer</b>, so that one broken probe can't mislead both
 * control and guard; when it is the only good air probe left it does, because a cabinet of one
 * probe may be run as well, and going cold for want of a probe that is there would be worse.
 */
public final class CabinetObserver {

    /** Control looks away from the mean once the warmest is further above it than this. */
    static final double WARMEST_LEAD_KELVIN = 1.0;

    /** The most that the warmest probe can lift the process value above mean and median. */
    static final double WARMEST_PULL_KELVIN = 2.0;

    private static final int NONE = -1;

    private final int probeCount;
    // Room to sort in; belongs to the caller's thread.
    private final double[] sorted;
    private final ProbeTrust allTrusted;
    private final boolean[] isAir;
    private final boolean[] isGuards;

    public CabinetObserver(CabinetPlan plan) {
        List<ProbePlan> probes = plan.probes();
        probeCount = probes.size();
        sorted = new double[probeCount];
        allTrusted = ProbeTrust.all(probeCount);
        isAir = new boolean[probeCount];
        isGuards = new boolean[probeCount];
        for (int i = 0; i < probeCount; i++) {
            ProbePlan probe = probes.get(i);
            isAir[i] = probe.sensor().isThermometer() && probe.place().kind().isAir();
            isGuards[i] = probe.isGuardProbe();
        }
    }

    /** The state that one tick's readings amount to when every probe may be believed. */
    public CabinetState observe(List<ProbeReading> readings) {
        return observe(readings, allTrusted);
    }

    /**
     * The state that one tick's readings amount to.
     *
     * @param readings one for each probe of the plan, in its order; immutable
     * @param trust which of them may be believed
     */
    public CabinetState observe(List<ProbeReading> readings, ProbeTrust trust) {
        double[] celsius = new double[probeCount];
        double sum = 0;
        int count = 0;
        int trustedAir = 0;
        int warmestSteering = NONE;
        int warmest = NONE;
        int coldest = NONE;
        for (int i = 0; i < probeCount; i++) {
            double value = goodCelsius(readings.get(i).reading());
            celsius[i] = value;
            if (!isAir[i] || Double.isNaN(value) || !trust.isTrusted(i)) {
                continue;
            }
            trustedAir++;
            if (warmest == NONE || value > celsius[warmest]) {
                warmest = i;
            }
            if (coldest == NONE || value < celsius[coldest]) {
                coldest = i;
            }
            if (!isGuards[i]) {
                sum += value;
                insert(value, count);
                count++;
                if (warmestSteering == NONE || value > celsius[warmestSteering]) {
                    warmestSteering = i;
                }
            }
        }
        double process;
        if (warmestSteering != NONE) {
            double mean = sum / count;
            process =
                    Math.min(
                            Math.max(mean, celsius[warmestSteering] - WARMEST_LEAD_KELVIN),
                            Math.max(mean, median(count)) + WARMEST_PULL_KELVIN);
        } else {
            process = warmest == NONE ? Double.NaN : celsius[warmest];
        }
        return new CabinetState(readings, celsius, trust, trustedAir, process, warmest, coldest);
    }

    private void insert(double value, int count) {
        int at = count;
        while (at > 0 && sorted[at - 1] > value) {
            sorted[at] = sorted[at - 1];
            at--;
        }
        sorted[at] = value;
    }

    private double median(int count) {
        int half = count / 2;
        return count % 2 == 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
    }

    private static double goodCelsius(Reading reading) {
        return reading instanceof Reading.Good good && good.value() instanceof Temperature value
                ? value.celsius()
                : Double.NaN;
    }
}
