package io.evenwarm.agent.driver.sysfs;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.port.Sample;
import io.evenwarm.message.Reading.Doubt;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Random;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Formats: Linux kernel, Documentation/w1/slaves/w1_therm.rst and drivers/w1/slaves/w1_therm.c
 * (w1_slave_show, temperature_show).
 */
final class OneWireThermometerTest {

    private static final String ADDRESS = "28-0000072431ab";
    private static final long AT = 42;

    @TempDir Path root;
    private Path device;

    @BeforeEach
    void makeDevice() throws IOException {
        device = Files.createDirectory(root.resolve(ADDRESS));
    }

    private void write(String file, String text) throws IOException {
        Files.writeString(device.resolve(file), text, StandardCharsets.ISO_8859_1);
    }

    private Sample read() {
        return new OneWireThermometer(root, ADDRESS).read(AT);
    }

    private void assertFailed(Doubt why) {
        Sample sample = read();
        Sample.Failed failed = assertInstanceOf(Sample.Failed.class, sample, sample::toString);
        assertEquals(why, failed.why(), failed::toString);
        assertEquals(AT, failed.atNanos());
        assertTrue(failed.detail().contains(root.toString()), failed::toString);
    }

    /** The sample texts of w1_therm.rst and of a public log; both checksums recomputed. */
    @ParameterizedTest
    @CsvSource({
        "50 05 4b 46 7f ff 0c 10 1c, 1c, 85000, 85.0",
        "5e 01 ff ff 7f ff ff ff 52, 52, 21875, 21.875"
    })
    void readsTheKernelsTwoLines(String bytes, String crc, String milli, double celsius)
            throws IOException {
        write("w1_slave", bytes + " : crc=" + crc + " YES\n" + bytes + " t=" + milli + "\n");

        assertEquals(new Sample.Measured(celsius, Sample.Unit.CELSIUS, AT), read());
    }

    /** DS18B20 datasheet, table 1, through the kernel's "t*1000/16", truncated towards zero. */
    @ParameterizedTest
    @CsvSource({
        "25062, 25.062",
        "-25062, -25.062",
        "10125, 10.125",
        "-10125, -10.125",
        "-55000, -55",
        "85000, 85",
        "20687, 20.687",
        "0, 0",
        "-500, -0.5",
        "500, 0.5"
    })
    void readsTheTemperatureFile(String text, double celsius) throws IOException {
        write("temperature", text + "\n");

        assertEquals(new Sample.Measured(celsius, Sample.Unit.CELSIUS, AT), read());
    }

    /** w1_slave_show: line 2 keeps the old bytes while t= comes from the new, damaged ones. */
    @Test
    void aChecksumVerdictOfNoIsNeverAValue() throws IOException {
        write(
                "w1_slave",
                "50 05 4b 46 7f ff 0c 10 00 : crc=1c NO\n5e 01 ff ff 7f ff ff ff 52 t=21875\n");

        assertFailed(Doubt.CHECKSUM);
    }

    @Test
    void theFileWithTheVerdictIsPreferredToTheOneWithout() throws IOException {
        write("temperature", "21875\n");
        write(
                "w1_slave",
                "50 05 4b 46 7f ff 0c 10 00 : crc=1c NO\n5e 01 ff ff 7f ff ff ff 52 t=21875\n");

        assertFailed(Doubt.CHECKSUM);
    }

    /** temperature_show gives 0 bytes on an error or while a conversion is pending. */
    @Test
    void anEmptyTemperatureFileIsNoValue() throws IOException {
        write("temperature", "");

        assertFailed(Doubt.GARBLED);
    }

    /** Nine zero bytes have a CRC-8 of zero (computed): a shorted data line would read 0 °C. */
    @Test
    void nothingButZerosIsAShortedLineAndNotFreezing() throws IOException {
        write(
                "w1_slave",
                "00 00 00 00 00 00 00 00 00 : crc=00 YES\n00 00 00 00 00 00 00 00 00 t=0\n");

        assertFailed(Doubt.GARBLED);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "\n\n",
                "YES",
                "50 05 4b 46 7f ff 0c 10 1c : crc=1c YES\n",
                "50 05 4b 46 7f ff 0c 10 1c : crc=1c YES\n50 05 4b 46 7f ff 0c 10 1c t=\n",
                "50 05 4b 46 7f ff 0c 10 1c : crc=1c YES\n50 05 4b 46 7f ff 0c 10 1c t=31.5\n",
                "50 05 4b 46 7f ff 0c 10 1c : crc=1c YES\n50 05 4b 46 7f ff 0c 10 1c t=99999999999\n",
                "50 05 4b 46 7f ff 0c 10 1c : crc=1c YESNO\n50 05 4b 46 7f ff 0c 10 1c t=31500\n",
                "50 05 4b 46 7f ff 0c 10 : crc=1c YES\n50 05 4b 46 7f ff 0c 10 t=31500\n"
            })
    void garbageIsGarbled(String text) throws IOException {
        write("w1_slave", text);

        assertFailed(Doubt.GARBLED);
    }

    @Test
    void aMissingDeviceIsNotThere() throws IOException {
        Files.delete(device);

        assertFailed(Doubt.NOT_THERE);
    }

    @Test
    void aFileThatCannotBeReadIsADriverFailure() throws IOException {
        Files.createDirectory(device.resolve("w1_slave"));

        assertFailed(Doubt.DRIVER);
    }

    /** Whatever bytes stand in the files: a value within the format's range, or a failure. */
    @Test
    void randomBytesNeverThrowAndNeverGiveAWildValue() throws IOException {
        long seed = 20_261_125;
        Random random = new Random(seed);
        String good =
                "50 05 4b 46 7f ff 0c 10 1c : crc=1c YES\n50 05 4b 46 7f ff 0c 10 1c t=31500\n";
        for (int run = 0; run < 500; run++) {
            StringBuilder text = new StringBuilder(good);
            int changes = random.nextInt(5);
            for (int i = 0; i < changes; i++) {
                text.setCharAt(random.nextInt(text.length()), (char) random.nextInt(256));
            }
            text.setLength(random.nextInt(text.length() + 1));
            write("w1_slave", text.toString());

            Sample sample = read();

            if (sample instanceof Sample.Measured measured) {
                assertTrue(
                        Math.abs(measured.value()) < 10_000,
                        () -> "seed " + seed + ": " + text + " gave " + measured);
            } else {
                assertInstanceOf(Sample.Failed.class, sample, "seed " + seed + ": " + text);
            }
        }
    }

    /** Family codes: w1_therm.rst. */
    @Test
    void onlyThermometersHaveAddresses() {
        assertTrue(OneWireThermometer.isAddress("28-0000072431ab"));
        assertTrue(OneWireThermometer.isAddress("10-000802824e58"));
        assertFalse(OneWireThermometer.isAddress("29-0000072431ab"));
        assertFalse(OneWireThermometer.isAddress("28-0000072431AB"));
        assertFalse(OneWireThermometer.isAddress("28-0000072431a"));
        assertFalse(OneWireThermometer.isAddress("../28-0000072431ab"));
    }

    @Test
    void theBusIsTheMasterThatTheLinkLeadsTo() throws IOException {
        Path master = Files.createDirectory(root.resolve("w1_bus_master2"));
        Files.createDirectory(master.resolve("28-0000072431ff"));
        Path devices = Files.createDirectory(root.resolve("devices"));
        Files.createSymbolicLink(
                devices.resolve("28-0000072431ff"), master.resolve("28-0000072431ff"));

        assertEquals("w1_bus_master2", OneWireThermometer.busOf(devices, "28-0000072431ff"));
        assertEquals("devices", OneWireThermometer.busOf(devices, "28-000000000000"));
    }
}
