package io.evenwarm.monitor.thermal;

import java.time.Duration;

/**
 * A time of which there are no readings, with neither heater nor fan.
 *
 * @param fromMillis of the last reading before it
 * @param toMillis of the first reading after it; later than {@code fromMillis}, by no more than
 *     {@link #LONGEST}
 * @param roomKelvin how far the room may have gone meanwhile from the line between its readings
 *     before and after: the half width; 0 to 20 K
 * @param isRoomMeasured whether a probe reads the room; where none does, what a warm reading after
 *     the gap says of the room and what it says of heat can't be told apart
 * @param isLoadChanged whether tubs came or went meanwhile
 */
public record Gap(
        long fromMillis,
        long toMillis,
        double roomKelvin,
        boolean isRoomMeasured,
        boolean isLoadChanged) {

    /**
     * Simulated cuts of up to this were reconstructed and compared with the truth. In longer ones
     * the cabinet comes so near to the room that what is read after it tells of the room alone, and
     * little of whether it was ever heated.
     */
    public static final Duration LONGEST = Duration.ofHours(18);

    /** The most that a room may be unknown by, K. */
    public static final double ROOM_KELVIN_MAX = 20;

    /** With a probe in the room and the same tubs all the time. */
    public Gap(long fromMillis, long toMillis, double roomKelvin) {
        this(fromMillis, toMillis, roomKelvin, true, false);
    }

    public Gap {
        if (toMillis <= fromMillis) {
            throw new IllegalArgumentException("a gap must end after it begins");
        }
        if (toMillis - fromMillis > LONGEST.toMillis()) {
            throw new IllegalArgumentException(
                    "a gap must not last longer than "
                            + LONGEST.toHours()
                            + " h but lasted "
                            + Duration.ofMillis(toMillis - fromMillis).toMinutes()
                            + " min");
        }
        if (!(roomKelvin >= 0 && roomKelvin <= ROOM_KELVIN_MAX)) {
            throw new IllegalArgumentException(
                    "the room's half width must be 0 to "
                            + ROOM_KELVIN_MAX
                            + " K but was "
                            + roomKelvin);
        }
    }
}
