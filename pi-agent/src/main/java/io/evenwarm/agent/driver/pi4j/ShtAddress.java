package io.evenwarm.agent.driver.pi4j;

import io.evenwarm.agent.port.Sample;
import java.util.Arrays;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Where a value of an SHT3x or SHT4x is found.
 *
 * @param device the sensor
 * @param unit which of its two values
 */
public record ShtAddress(Device device, Sample.Unit unit) {

    /** What an address looks like, for a person. */
    public static final String FORM =
            "sht3x or sht4x, @, I²C bus and address as Linux writes them, slash and temp or"
                    + " humidity, for example \"sht3x@1-0044/temp\" (bus 1, address 44)";

    /** 44 to 46: the addresses that these families are made with. */
    private static final Pattern PATTERN =
            Pattern.compile("(sht3x|sht4x)@(\\d{1,2})-00(4[456])/(temp|humidity)");

    /**
     * One sensor.
     *
     * @param word its family, {@code sht3x} or {@code sht4x}
     * @param bus the number in {@code /dev/i2c-N}
     * @param address 44 to 46, hexadecimal
     */
    public record Device(String word, int bus, int address) {

        /** The bus's name, for a person and a thread. */
        public String busName() {
            return "i2c-" + bus;
        }

        /** As Linux calls it, for example {@code 1-0044}. */
        String linuxName() {
            return "%d-%04x".formatted(bus, address);
        }

        ShtKind kind() {
            return Arrays.stream(ShtKind.values())
                    .filter(kind -> kind.word().equals(word))
                    .findFirst()
                    .orElseThrow();
        }

        @Override
        public String toString() {
            return word + "@" + linuxName();
        }
    }

    /** Empty when the text has not the form {@code sht3x@1-0044/temp}. */
    public static Optional<ShtAddress> parse(String text) {
        Matcher matcher = PATTERN.matcher(text);
        if (!matcher.matches()) {
            return Optional.empty();
        }
        Device device =
                new Device(
                        matcher.group(1),
                        Integer.parseInt(matcher.group(2)),
                        Integer.parseInt(matcher.group(3), 16));
        return Optional.of(
                new ShtAddress(
                        device,
                        matcher.group(4).equals("temp")
                                ? Sample.Unit.CELSIUS
                                : Sample.Unit.PERCENT_RELATIVE_HUMIDITY));
    }

    @Override
    public String toString() {
        return device + (unit == Sample.Unit.CELSIUS ? "/temp" : "/humidity");
    }
}
