package io.evenwarm.agent.driver.sysfs;

import io.evenwarm.agent.driver.SampleSource;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.message.Reading.Doubt;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A 1-Wire thermometer through Linux's {@code w1_therm} [1].
 *
 * <p>Reads {@code w1_slave} where there is one, because only that file tells the checksum's
 * verdict; otherwise {@code temperature}. 85 °C is passed on as a value: {@code reading} judges it.
 *
 * <p>[1] Linux kernel, Documentation/w1/slaves/w1_therm.rst and drivers/w1/slaves/w1_therm.c
 */
public final class OneWireThermometer implements SampleSource {

    /** What an address looks like, for a person. */
    public static final String ADDRESS_FORM =
            "family, hyphen and 12 hex digits of a 1-Wire thermometer, for example"
                    + " \"28-0000072431ab\" (families 10, 22, 28, 3b, 42); \"evenwarm-agent probes\""
                    + " lists those that are there";

    /** DS18S20, DS1822, DS18B20, DS1825, DS28EA00 [1]. */
    private static final Pattern ADDRESS = Pattern.compile("(10|22|28|3b|42)-[0-9a-f]{12}");

    private static final Pattern VERDICT =
            Pattern.compile("((?:[0-9a-f]{2} ){9}): crc=[0-9a-f]{2} (YES|NO)");
    private static final Pattern VALUE = Pattern.compile("(?:[0-9a-f]{2} ){9}t=(-?\\d{1,7})");
    private static final Pattern MILLI_CELSIUS = Pattern.compile("-?\\d{1,7}");
    private static final String ALL_ZERO = "00 ".repeat(9);

    private final Path withChecksum;
    private final Path plain;

    /**
     * @param folder Linux's {@code /sys/bus/w1/devices}, or a stand-in
     * @param address checked with {@link #isAddress}
     */
    public OneWireThermometer(Path folder, String address) {
        Path device = folder.resolve(address);
        this.withChecksum = device.resolve("w1_slave");
        this.plain = device.resolve("temperature");
    }

    /** Whether this is a 1-Wire thermometer's address. */
    public static boolean isAddress(String text) {
        return ADDRESS.matcher(text).matches();
    }

    /**
     * The bus master that a device hangs on: the folder that its link leads into.
     *
     * @return its name; the root folder's own where the device is not there or is no link
     */
    public static String busOf(Path folder, String address) {
        try {
            Path parent = folder.resolve(address).toRealPath().getParent();
            Path name = parent == null ? null : parent.getFileName();
            return name == null ? address : name.toString();
        } catch (IOException e) {
            return String.valueOf(folder.getFileName());
        }
    }

    @Override
    public Sample read(long startedAtNanos) {
        boolean hasChecksum = Files.exists(withChecksum);
        Path file = hasChecksum ? withChecksum : plain;
        try {
            String text = SysfsFile.read(file);
            return hasChecksum
                    ? fromTwoLines(text, startedAtNanos)
                    : fromOneNumber(text, startedAtNanos);
        } catch (IOException e) {
            return SysfsFile.failed(file, e, startedAtNanos);
        }
    }

    private Sample fromTwoLines(String text, long atNanos) {
        List<String> lines = text.lines().toList();
        Matcher verdict = VERDICT.matcher(lines.isEmpty() ? "" : lines.get(0));
        if (!verdict.matches()) {
            return garbled(text, atNanos);
        }
        if (verdict.group(2).equals("NO")) {
            // The number on line 2 is computed from the damaged bytes [1]: it is not even looked
            // at.
            return new Sample.Failed(
                    Doubt.CHECKSUM,
                    withChecksum + " says \"" + SysfsFile.shown(lines.get(0)) + "\"",
                    atNanos);
        }
        if (verdict.group(1).equals(ALL_ZERO)) {
            // Nine zeros have a matching checksum of zero: a data line that is shorted to ground.
            return new Sample.Failed(
                    Doubt.GARBLED,
                    withChecksum + " holds nothing but zeros: is the data line shorted?",
                    atNanos);
        }
        Matcher value = VALUE.matcher(lines.size() < 2 ? "" : lines.get(1));
        return value.matches()
                ? measured(Integer.parseInt(value.group(1)), atNanos)
                : garbled(text, atNanos);
    }

    private Sample fromOneNumber(String text, long atNanos) {
        if (text.isEmpty()) {
            // The driver answers with nothing while a conversion failed or is under way [1].
            return new Sample.Failed(
                    Doubt.GARBLED, plain + " is empty: the sensor gave no value", atNanos);
        }
        return MILLI_CELSIUS.matcher(text).matches()
                ? measured(Integer.parseInt(text), atNanos)
                : SysfsFile.garbled(plain, text, "a number of thousandths of °C", atNanos);
    }

    private Sample garbled(String text, long atNanos) {
        return SysfsFile.garbled(withChecksum, text, "nine bytes with a verdict, and t=", atNanos);
    }

    private static Sample measured(int milliCelsius, long atNanos) {
        return new Sample.Measured(milliCelsius / 1000.0, Sample.Unit.CELSIUS, atNanos);
    }
}
