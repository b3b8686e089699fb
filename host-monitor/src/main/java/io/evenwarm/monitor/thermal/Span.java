package io.evenwarm.monitor.thermal;

/**
 * What is foretold: the most likely value, and the ends between which it lies in four of five
 * cases. A time that is never reached within the outlook is infinite.
 *
 * @param low not above {@code likely}
 * @param high not below {@code likely}
 */
public record Span(double low, double likely, double high) {

    public Span {
        if (!(low <= likely && likely <= high)) {
            throw new IllegalArgumentException(
                    "must be in order but was " + low + ", " + likely + ", " + high);
        }
    }
}
