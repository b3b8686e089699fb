package io.evenwarm.agent.driver.sysfs;

import io.evenwarm.agent.driver.SampleSource;
import io.evenwarm.agent.port.Sample;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import java.util.regex.Pattern;

/**
 * A thermometer or hygrometer through Linux's hwmon: {@code tempN_input} in thousandths of °C [1],
 * {@code humidityN_input} in thousandths of a percent [2].
 *
 * <p>[1] Linux kernel, Documentation/hwmon/sysfs-interface.rst; [2] Documentation/hwmon/sht3x.rst
 */
public final class HwmonChannel implements SampleSource {

    /** What an address looks like, for a person. */
    public static final String ADDRESS_FORM =
            "device name, slash and tempN or humidityN, for example \"sht3x/temp1\","
                    + " or \"sht3x@1-0044/temp1\" where two devices have one name";

    private static final Pattern CHANNEL = Pattern.compile("(temp|humidity)[1-9]\\d{0,2}");
    private static final Pattern MILLI = Pattern.compile("-?\\d{1,9}");

    private final NamedDevice device;
    private final String file;
    private final Sample.Unit unit;

    /**
     * @param folder Linux's {@code /sys/class/hwmon}, or a stand-in
     * @param address checked with {@link #unitOf}
     */
    public HwmonChannel(Path folder, String address) {
        ChannelAddress parsed = ChannelAddress.parse(address).orElseThrow();
        this.device = new NamedDevice(folder, parsed);
        this.file = parsed.channel() + "_input";
        this.unit = unitOf(address).orElseThrow();
    }

    /** What is measured at this address; empty when it is no hwmon address. */
    public static Optional<Sample.Unit> unitOf(String address) {
        return ChannelAddress.unitOf(address, CHANNEL);
    }

    @Override
    public Sample read(long startedAtNanos) {
        Path input;
        try {
            input = device.find().resolve(file);
        } catch (NamedDevice.DeviceNotFoundException e) {
            return e.asSample(startedAtNanos);
        }
        try {
            String text = SysfsFile.read(input);
            return MILLI.matcher(text).matches()
                    ? new Sample.Measured(Integer.parseInt(text) / 1000.0, unit, startedAtNanos)
                    : SysfsFile.garbled(input, text, "a whole number", startedAtNanos);
        } catch (IOException e) {
            device.forget();
            return SysfsFile.failed(input, e, startedAtNanos);
        }
    }
}
