package io.evenwarm.settings;

import java.math.BigDecimal;

/**
 * Which numbers a key may have.
 *
 * @param min smallest
 * @param minIncluded whether {@code min} itself is allowed
 * @param max largest, itself allowed
 * @param unit printed behind the numbers; may be empty
 */
public record NumberRange(double min, boolean minIncluded, double max, String unit) {

    public NumberRange {
        if (!(min <= max)) {
            throw new IllegalArgumentException("range must not be empty: " + min + " to " + max);
        }
    }

    /** {@code min} to {@code max}, both allowed. */
    public static NumberRange of(double min, double max, String unit) {
        return new NumberRange(min, true, max, unit);
    }

    /** Above {@code min}, up to {@code max}. */
    public static NumberRange above(double min, double max, String unit) {
        return new NumberRange(min, false, max, unit);
    }

    /** Whether the value is allowed; NaN never is. */
    public boolean allows(double value) {
        return (minIncluded ? value >= min : value > min) && value <= max;
    }

    /** For example {@code a number from 0 to 600 s}. */
    public String words() {
        String unitWords = unit.isEmpty() ? "" : " " + unit;
        return minIncluded
                ? "a number from " + plain(min) + " to " + plain(max) + unitWords
                : "a number above " + plain(min) + " and up to " + plain(max) + unitWords;
    }

    /** The shortest form that a person would write, without an exponent. */
    public static String plain(double value) {
        if (!Double.isFinite(value)) {
            return Double.toString(value);
        }
        BigDecimal decimal = BigDecimal.valueOf(value).stripTrailingZeros();
        return decimal.scale() < 0 ? decimal.toBigInteger().toString() : decimal.toPlainString();
    }
}
