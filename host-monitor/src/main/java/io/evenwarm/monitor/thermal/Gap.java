package io.evenwarm.monitor.thermal;

/**
 * A time of which there are no readings, with neither heater nor fan.
 *
 * @param fromMillis of the last reading before it
 * @param toMillis of the first reading after it; later than {@code fromMillis}
 * @param roomKelvin how far the room may have gone meanwhile from the line between its readings
 *     before and after: the half width; 0 to 20 K
 * @param isLoadChanged whether tubs came or went meanwhile
 */
public record Gap(long fromMillis, long toMillis, double roomKelvin, boolean isLoadChanged) {

    /** With the same tubs all the time. */
    public Gap(long fromMillis, long toMillis, double roomKelvin) {
        this(fromMillis, toMillis, roomKelvin, false);
    }

    public Gap {
        if (toMillis <= fromMillis) {
            throw new IllegalArgumentException("a gap must end after it begins");
        }
        if (!(roomKelvin >= 0 && roomKelvin <= 20)) {
            throw new IllegalArgumentException(
                    "the room's half width must be 0 to 20 K but was " + roomKelvin);
        }
    }
}
