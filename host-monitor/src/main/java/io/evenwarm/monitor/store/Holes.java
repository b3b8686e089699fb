package io.evenwarm.monitor.store;

import java.util.Arrays;

/**
 * Finds where readings are missing.
 *
 * <p>How often an agent records is its own setting and may change within a span, and a fast
 * simulation's seconds are not ours. So the measure is the readings' own usual interval: a hole is
 * a step longer than {@value #INTERVALS} times what is usual among the steps around it.
 */
final class Holes {

    /** One lost record is a slip; from here on a straight line would claim too much. */
    static final int INTERVALS = 3;

    /** Agents record no more often than they tick. */
    private static final long INTERVAL_MILLIS_MIN = 1000;

    private static final int BLOCK_STEPS = 64;
    private static final int NEIGHBOURS = 8;

    private Holes() {}

    /**
     * The indices after which a hole begins.
     *
     * @param times wall times in milliseconds, rising
     * @param size how many of them count
     */
    static int[] after(long[] times, int size) {
        int[] found = new int[16];
        int count = 0;
        for (int block = 0; block + 1 < size; block += BLOCK_STEPS) {
            int end = Math.min(block + BLOCK_STEPS, size - 1);
            long suspicious = INTERVALS * usual(times, block, end);
            for (int i = block; i < end; i++) {
                if (times[i + 1] - times[i] > suspicious && isHole(times, size, i)) {
                    if (count == found.length) {
                        found = Arrays.copyOf(found, count * 2);
                    }
                    found[count++] = i;
                }
            }
        }
        return Arrays.copyOf(found, count);
    }

    /**
     * A block may lie astride a change of the interval, so the nearest steps have the last word.
     */
    private static boolean isHole(long[] times, int size, int index) {
        int from = Math.max(0, index - NEIGHBOURS);
        int to = Math.min(size - 1, index + 1 + NEIGHBOURS);
        return times[index + 1] - times[index] > INTERVALS * usual(times, from, to);
    }

    /** The median of the steps that begin at {@code from} up to but not at {@code to}. */
    private static long usual(long[] times, int from, int to) {
        long[] steps = new long[to - from];
        for (int i = from; i < to; i++) {
            steps[i - from] = times[i + 1] - times[i];
        }
        Arrays.sort(steps);
        return Math.max(INTERVAL_MILLIS_MIN, steps[steps.length / 2]);
    }
}
