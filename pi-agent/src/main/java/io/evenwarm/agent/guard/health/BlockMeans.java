package io.evenwarm.agent.guard.health;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.message.ProbeReading;
import java.util.Arrays;
import java.util.List;

/**
 * Gathers ticks into blocks of {@value #SECONDS} s: the share of time that the heater was on, and
 * each watched probe's mean, whether it said the same all the time, and its scatter from sample to
 * sample. Ten seconds are three rounds of a bus with four thermometers, and still short against
 * everything that a cabinet does.
 */
final class BlockMeans {

    static final int SECONDS = 10;

    /** Half a tick: a block ends with the nearest tick. */
    private static final double ENOUGH_SECONDS = SECONDS - 0.5;

    /** What a probe did between two samples so far apart is no step: its scatter begins anew. */
    private static final double GAP_NANOS = 15e9;

    private final int[] probes;
    private final double[] sum;
    private final int[] ticks;
    private final double[] last;
    private final double[] lastStep;
    private final double[] lastMove;
    private final double[] bends;
    private final long[] lastAtNanos;
    private final int[] samples;
    private final boolean[] isSame;
    private final double[] squaredSteps;
    private double heatedSeconds;
    private double seconds;

    private double heatShare;
    private final double[] mean;
    private final boolean[] wasSame;
    private final int[] newSamples;
    private final double[] meanSquaredStep;

    /**
     * @param probes indices in the plan of the probes that are watched
     */
    BlockMeans(int[] probes) {
        int count = probes.length;
        this.probes = probes.clone();
        sum = new double[count];
        ticks = new int[count];
        last = new double[count];
        Arrays.fill(last, Double.NaN);
        lastStep = new double[count];
        Arrays.fill(lastStep, Double.NaN);
        lastMove = new double[count];
        Arrays.fill(lastMove, Double.NaN);
        bends = new double[count];
        lastAtNanos = new long[count];
        samples = new int[count];
        isSame = new boolean[count];
        Arrays.fill(isSame, true);
        squaredSteps = new double[count];
        mean = new double[count];
        wasSame = new boolean[count];
        newSamples = new int[count];
        meanSquaredStep = new double[count];
    }

    /**
     * Takes a tick in.
     *
     * @param heaterOnShare of the time since the last tick in which heat was commanded, 0 to 1
     * @return whether a block is complete now
     */
    boolean take(CabinetState state, double heaterOnShare, double elapsedSeconds) {
        seconds += elapsedSeconds;
        heatedSeconds += heaterOnShare * elapsedSeconds;
        List<ProbeReading> readings = state.readings();
        for (int i = 0; i < probes.length; i++) {
            int probe = probes[i];
            if (!state.isGood(probe)) {
                continue;
            }
            double celsius = state.celsius(probe);
            sum[i] += celsius;
            ticks[i]++;
            long atNanos = readings.get(probe).reading().sampledAtNanos();
            if (atNanos != lastAtNanos[i] || samples[i] == 0) {
                takeSample(i, celsius, atNanos);
            }
        }
        if (seconds < ENOUGH_SECONDS) {
            return false;
        }
        finish();
        return true;
    }

    private void takeSample(int i, double celsius, long atNanos) {
        boolean isGap = atNanos - lastAtNanos[i] > GAP_NANOS;
        double step = celsius - last[i];
        double bend = isGap ? Double.NaN : step - lastStep[i];
        // Of independent samples a bend has three times the variance of a step; a steady rise or
        // fall has none. Nor has one that slows down, or rests between two steps of the
        // thermometer: a probe that falls out into a cold room plunges, and does not scatter.
        if (isGap) {
            lastMove[i] = Double.NaN;
            bends[i] = 0;
        } else if (Double.isFinite(bend)) {
            bends[i] += step * lastStep[i] <= 0 ? bend * bend / 3 : 0;
            if (step != 0) {
                squaredSteps[i] += step * lastMove[i] < 0 ? bends[i] : 0;
                bends[i] = 0;
                lastMove[i] = step;
            }
        }
        lastStep[i] = isGap ? Double.NaN : step;
        isSame[i] &= step == 0;
        last[i] = celsius;
        lastAtNanos[i] = atNanos;
        samples[i]++;
    }

    private void finish() {
        heatShare = heatedSeconds / seconds;
        for (int i = 0; i < probes.length; i++) {
            mean[i] = ticks[i] == 0 ? Double.NaN : sum[i] / ticks[i];
            wasSame[i] = isSame[i] && samples[i] > 0;
            newSamples[i] = samples[i];
            meanSquaredStep[i] = samples[i] == 0 ? 0 : squaredSteps[i] / samples[i];
        }
        restart();
    }

    /** A block begins now: what was gathered since the last one does not go with what comes. */
    void restart() {
        for (int i = 0; i < probes.length; i++) {
            sum[i] = 0;
            ticks[i] = 0;
            samples[i] = 0;
            isSame[i] = true;
            squaredSteps[i] = 0;
        }
        heatedSeconds = 0;
        seconds = 0;
    }

    /** Share of the last block in which heat was commanded, 0 to 1. */
    double heatShare() {
        return heatShare;
    }

    /** Mean of a watched probe in the last block, °C; NaN when it was never good. */
    double celsius(int watched) {
        return mean[watched];
    }

    /** Whether every sample of the last block was the same as the one before it. */
    boolean wasSame(int watched) {
        return wasSame[watched];
    }

    /** How many samples the last block had. */
    int samples(int watched) {
        return newSamples[watched];
    }

    /** Mean square of the step from sample to sample in the last block, K². */
    double meanSquaredStep(int watched) {
        return meanSquaredStep[watched];
    }
}
