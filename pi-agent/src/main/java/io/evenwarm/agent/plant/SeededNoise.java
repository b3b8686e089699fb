package io.evenwarm.agent.plant;

/**
 * Numbers that depend on a seed alone, the same on every machine and JDK.
 *
 * <p>SplitMix64 (Steele, Lea and Flood, "Fast splittable pseudorandom number generators", OOPSLA
 * 2014, from memory). A normal number is the count of ones in 64 random bits, less 32, spread by a
 * uniform number over one bit's width: binomial, and so close to normal (excess kurtosis −0.03)
 * that a thermometer's noise is not told apart, at a cost of a few nanoseconds and no logarithm.
 */
final class SeededNoise {

    private static final double DEVIATION = StrictMath.sqrt(16 + 1.0 / 12);

    private long state;

    SeededNoise(long seed) {
        this.state = seed;
    }

    private long next() {
        state += 0x9E3779B97F4A7C15L;
        long z = state;
        z = (z ^ (z >>> 30)) * 0xBF58476D1CE4E5B9L;
        z = (z ^ (z >>> 27)) * 0x94D049BB133111EBL;
        return z ^ (z >>> 31);
    }

    /** From 0 to below 1. */
    double uniform() {
        return (next() >>> 11) * 0x1p-53;
    }

    /** Mean 0, standard deviation 1. */
    double normal() {
        return (Long.bitCount(next()) - 32 + uniform() - 0.5) / DEVIATION;
    }
}
