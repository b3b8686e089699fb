package io.evenwarm.agent.driver.sysfs;

import io.evenwarm.agent.driver.SampleSource;
import io.evenwarm.agent.port.Sample;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.regex.Pattern;

/**
 * A thermometer or hygrometer through Linux's industrial I/O [1]: {@code in_temp_input} in
 * thousandths of °C, {@code in_humidityrelative_input} in thousandths of a percent, or, where a
 * driver gives raw numbers only, (raw + offset) · scale.
 *
 * <p>[1] Linux kernel, Documentation/ABI/testing/sysfs-bus-iio
 */
public final class IioChannel implements SampleSource {

    /** What an address looks like, for a person. */
    public static final String ADDRESS_FORM =
            "device name, slash and temp or humidityrelative, for example \"bme280/temp\","
                    + " or \"bme280@1-0076/temp\" where two devices have one name";

    private static final Pattern CHANNEL = Pattern.compile("(temp|humidityrelative)\\d{0,2}");
    private static final Pattern NUMBER = Pattern.compile("-?\\d{1,10}(\\.\\d{1,12})?");

    private final NamedDevice device;
    private final String channel;
    private final Sample.Unit unit;

    /**
     * @param folder Linux's {@code /sys/bus/iio/devices}, or a stand-in
     * @param address checked with {@link #unitOf}
     */
    public IioChannel(Path folder, String address) {
        ChannelAddress parsed = ChannelAddress.parse(address).orElseThrow();
        this.device = new NamedDevice(folder, parsed);
        this.channel = "in_" + parsed.channel();
        this.unit = unitOf(address).orElseThrow();
    }

    /** What is measured at this address; empty when it is no IIO address. */
    public static Optional<Sample.Unit> unitOf(String address) {
        return ChannelAddress.unitOf(address, CHANNEL);
    }

    @Override
    public Sample read(long startedAtNanos) {
        Path folder;
        try {
            folder = device.find();
        } catch (NamedDevice.DeviceNotFoundException e) {
            return e.asSample(startedAtNanos);
        }
        Path input = folder.resolve(channel + "_input");
        try {
            double milli = Files.exists(input) ? number(input) : fromRaw(folder);
            return new Sample.Measured(milli / 1000.0, unit, startedAtNanos);
        } catch (NoNumberException e) {
            return SysfsFile.garbled(e.file, e.text, "a number", startedAtNanos);
        } catch (IOException e) {
            device.forget();
            return SysfsFile.failed(input, e, startedAtNanos);
        }
    }

    private double fromRaw(Path folder) throws IOException {
        double raw = number(folder.resolve(channel + "_raw"));
        Path offset = folder.resolve(channel + "_offset");
        double shifted = Files.exists(offset) ? raw + number(offset) : raw;
        return shifted * number(folder.resolve(channel + "_scale"));
    }

    private static double number(Path file) throws IOException {
        String text = SysfsFile.read(file);
        if (!NUMBER.matcher(text).matches()) {
            throw new NoNumberException(file, text);
        }
        return Double.parseDouble(text);
    }

    private static final class NoNumberException extends IOException {
        private static final long serialVersionUID = 1L;

        private final transient Path file;
        private final String text;

        NoNumberException(Path file, String text) {
            super(file + " holds no number");
            this.file = file;
            this.text = text;
        }
    }
}
