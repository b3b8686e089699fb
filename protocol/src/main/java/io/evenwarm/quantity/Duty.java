package io.evenwarm.quantity;

/**
 * The share of time that an output is asked to be on.
 *
 * @param fraction 0 (off) to 1 (always on)
 */
public record Duty(double fraction) {

    /** No heat. */
    public static final Duty OFF = new Duty(0);

    public Duty {
        if (!(fraction >= 0 && fraction <= 1)) {
            throw new IllegalArgumentException("duty must be 0 to 1 but was " + fraction);
        }
    }

    public static Duty ofFraction(double fraction) {
        return new Duty(fraction);
    }

    public double percent() {
        return fraction * 100;
    }
}
