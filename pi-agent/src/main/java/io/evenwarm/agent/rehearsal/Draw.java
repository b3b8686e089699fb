package io.evenwarm.agent.rehearsal;

import java.util.List;
import java.util.Random;

/**
 * Numbers drawn from a seed alone. {@link Random} is specified to the bit, so that one seed draws
 * the same on every JDK; the seed is mixed first, because its own neighbouring seeds begin alike.
 */
final class Draw {

    private final Random random;

    /**
     * @param seed of the run
     * @param purpose what is drawn: two purposes of one seed draw independently
     */
    Draw(long seed, String purpose) {
        random = new Random(mixed(mixed(seed) + purpose.hashCode()));
    }

    /** The finalizer of SplitMix64 (Steele, Lea and Flood, OOPSLA 2014, from memory). */
    private static long mixed(long value) {
        long z = value + 0x9E3779B97F4A7C15L;
        z = (z ^ (z >>> 30)) * 0xBF58476D1CE4E5B9L;
        z = (z ^ (z >>> 27)) * 0x94D049BB133111EBL;
        return z ^ (z >>> 31);
    }

    double between(double least, double most) {
        return least + (most - least) * random.nextDouble();
    }

    /** So that each doubling of the value is equally likely. Both ends above 0. */
    double evenlyInRatio(double least, double most) {
        return least * StrictMath.pow(most / least, random.nextDouble());
    }

    int whole(int least, int most) {
        return least + random.nextInt(most - least + 1);
    }

    boolean inShare(double share) {
        return random.nextDouble() < share;
    }

    <T> T oneOf(List<T> things) {
        return things.get(random.nextInt(things.size()));
    }
}
