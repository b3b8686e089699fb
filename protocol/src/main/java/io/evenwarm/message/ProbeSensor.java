package io.evenwarm.message;

/**
 * What kind of sensor a probe is: how far its readings can be believed follows from its datasheet.
 *
 * @param sensor as its maker or the kernel's driver calls it, in lower case, for example {@code
 *     ds18b20}; 1 to {@value #LENGTH_MAX} characters
 */
public record ProbeSensor(CabinetName cabinet, ProbeName probe, String sensor) {

    public static final int LENGTH_MAX = 64;

    public ProbeSensor {
        if (sensor.isBlank()
                || sensor.length() > LENGTH_MAX
                || sensor.chars().anyMatch(Character::isISOControl)) {
            throw new IllegalArgumentException(
                    "a sensor must be 1 to "
                            + LENGTH_MAX
                            + " characters on one line but was \""
                            + sensor.replaceAll("\\p{Cntrl}", "?")
                            + "\"");
        }
    }
}
