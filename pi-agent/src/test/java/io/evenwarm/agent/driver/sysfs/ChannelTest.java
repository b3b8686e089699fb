package io.evenwarm.agent.driver.sysfs;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.driver.SampleSource;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.message.Reading.Doubt;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** hwmon and IIO channels against fake trees in the kernel's formats. */
final class ChannelTest {

    private static final long AT = 7;

    @TempDir Path root;

    private Path device(String folder, String name) throws IOException {
        Path device = Files.createDirectories(root.resolve(folder));
        Files.writeString(device.resolve("name"), name + "\n");
        return device;
    }

    private static void put(Path device, String file, String text) throws IOException {
        Files.writeString(device.resolve(file), text);
    }

    private static Sample celsius(double value) {
        return new Sample.Measured(value, Sample.Unit.CELSIUS, AT);
    }

    private static Sample percent(double value) {
        return new Sample.Measured(value, Sample.Unit.PERCENT_RELATIVE_HUMIDITY, AT);
    }

    private static Sample.Failed failure(SampleSource source, Doubt why) {
        Sample sample = source.read(AT);
        Sample.Failed failed = assertInstanceOf(Sample.Failed.class, sample, sample::toString);
        assertEquals(why, failed.why(), failed::toString);
        return failed;
    }

    /** Linux kernel, Documentation/hwmon/sysfs-interface.rst and sht3x.rst: 31.5 °C is 31500. */
    @Test
    void hwmonGivesThousandths() throws IOException {
        Path device = device("hwmon3", "sht3x");
        put(device, "temp1_input", "31500\n");
        put(device, "humidity1_input", "84250\n");

        assertEquals(celsius(31.5), new HwmonChannel(root, "sht3x/temp1").read(AT));
        assertEquals(percent(84.25), new HwmonChannel(root, "sht3x/humidity1").read(AT));
    }

    /** hwmon numbers are given out anew at each boot and each plugging in. */
    @Test
    void aDeviceThatComesBackUnderAnotherNumberIsFoundAgain() throws IOException {
        Path device = device("hwmon3", "sht3x");
        put(device, "temp1_input", "31500\n");
        HwmonChannel channel = new HwmonChannel(root, "sht3x/temp1");
        assertEquals(celsius(31.5), channel.read(AT));

        Files.move(device, root.resolve("hwmon5"));
        failure(channel, Doubt.NOT_THERE);
        assertEquals(celsius(31.5), channel.read(AT));
    }

    @Test
    void twoDevicesOfOneNameAreToldApartByTheirHardware() throws IOException {
        put(device("hwmon0", "sht3x"), "temp1_input", "30000\n");
        put(device("hwmon1", "sht3x"), "temp1_input", "20000\n");
        Path buses = Files.createDirectory(root.resolve("buses"));
        Files.createSymbolicLink(
                root.resolve("hwmon0/device"), Files.createDirectory(buses.resolve("1-0044")));
        Files.createSymbolicLink(
                root.resolve("hwmon1/device"), Files.createDirectory(buses.resolve("1-0045")));

        Sample.Failed failed = failure(new HwmonChannel(root, "sht3x/temp1"), Doubt.NOT_THERE);
        assertTrue(failed.detail().contains("sht3x@1-0044/temp1"), failed::toString);
        assertEquals(celsius(20), new HwmonChannel(root, "sht3x@1-0045/temp1").read(AT));
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "31.5", "N/A", "1e5", "99999999999", "0x7"})
    void hwmonGarbageIsGarbled(String text) throws IOException {
        put(device("hwmon0", "sht3x"), "temp1_input", text);

        failure(new HwmonChannel(root, "sht3x/temp1"), Doubt.GARBLED);
    }

    @Test
    void whatIsMissingOrUnreadableIsSaidWithItsPlace() throws IOException {
        Sample.Failed noDevice = failure(new HwmonChannel(root, "sht3x/temp1"), Doubt.NOT_THERE);
        assertTrue(noDevice.detail().contains("is called sht3x"), noDevice::toString);

        Path device = device("hwmon0", "sht3x");
        Sample.Failed noFile = failure(new HwmonChannel(root, "sht3x/temp1"), Doubt.NOT_THERE);
        assertTrue(noFile.detail().contains("temp1_input"), noFile::toString);

        Files.createDirectory(device.resolve("temp1_input"));
        failure(new HwmonChannel(root, "sht3x/temp1"), Doubt.DRIVER);

        failure(new HwmonChannel(root.resolve("absent"), "sht3x/temp1"), Doubt.NOT_THERE);
    }

    /**
     * Linux kernel, Documentation/ABI/testing/sysfs-bus-iio: in_temp_input,
     * in_humidityrelative_input.
     */
    @Test
    void iioGivesThousandths() throws IOException {
        Path device = device("iio:device0", "bme280");
        put(device, "in_temp_input", "28170\n");
        put(device, "in_humidityrelative_input", "61523\n");

        assertEquals(celsius(28.17), new IioChannel(root, "bme280/temp").read(AT));
        assertEquals(percent(61.523), new IioChannel(root, "bme280/humidityrelative").read(AT));
    }

    /** Same source: raw values convert by (raw + offset) · scale to thousandths. */
    @Test
    void iioRawNumbersAreConverted() throws IOException {
        Path device = device("iio:device0", "si7020");
        put(device, "in_temp_raw", "6640\n");
        put(device, "in_temp_offset", "-4368\n");
        put(device, "in_temp_scale", "10.725097656\n");

        Sample sample = new IioChannel(root, "si7020/temp").read(AT);
        Sample.Measured measured = assertInstanceOf(Sample.Measured.class, sample);
        // (6640 − 4368) · 10.725097656 / 1000
        assertEquals(24.367_421_874, measured.value(), 1e-9);

        Files.delete(device.resolve("in_temp_offset"));
        assertEquals(
                71.214_648_436,
                assertInstanceOf(
                                Sample.Measured.class, new IioChannel(root, "si7020/temp").read(AT))
                        .value(),
                1e-9);

        put(device, "in_temp_scale", "wide\n");
        failure(new IioChannel(root, "si7020/temp"), Doubt.GARBLED);

        Files.delete(device.resolve("in_temp_scale"));
        failure(new IioChannel(root, "si7020/temp"), Doubt.NOT_THERE);
    }

    @Test
    void anAddressTellsWhatIsMeasured() {
        assertEquals(Optional.of(Sample.Unit.CELSIUS), HwmonChannel.unitOf("sht3x/temp1"));
        assertEquals(
                Optional.of(Sample.Unit.PERCENT_RELATIVE_HUMIDITY),
                HwmonChannel.unitOf("sht3x@1-0044/humidity1"));
        assertEquals(Optional.empty(), HwmonChannel.unitOf("sht3x/fan1"));
        assertEquals(Optional.empty(), HwmonChannel.unitOf("temp1"));
        assertEquals(Optional.empty(), HwmonChannel.unitOf("../x/temp1"));
        assertEquals(Optional.of(Sample.Unit.CELSIUS), IioChannel.unitOf("bme280/temp"));
        assertEquals(
                Optional.of(Sample.Unit.PERCENT_RELATIVE_HUMIDITY),
                IioChannel.unitOf("bme280/humidityrelative"));
        assertEquals(Optional.empty(), IioChannel.unitOf("bme280/pressure"));
    }
}
