package io.evenwarm.agent.driver.sysfs;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import io.evenwarm.agent.port.Sample;
import io.evenwarm.message.Reading.Doubt;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

final class OneWireTextTest {

    @TempDir Path root;

    /** "123456789" to 0xA1, and the ROM example of Maxim AN27 (from memory of it, recomputed). */
    @Test
    void theChecksumIsThatOf1Wire() {
        assertEquals(0xa1, OneWireText.crc8('1', '2', '3', '4', '5', '6', '7', '8', '9'));
        assertEquals(0xa2, OneWireText.crc8(0x02, 0x1c, 0xb8, 0x01, 0, 0, 0));
        assertEquals(0, OneWireText.crc8(0x02, 0x1c, 0xb8, 0x01, 0, 0, 0, 0xa2));
    }

    /** The example of Linux Documentation/w1/slaves/w1_therm.rst: the power-on value. */
    @Test
    void theTextIsTheKernels() {
        assertEquals(
                "50 05 4b 46 7f ff 0c 10 1c : crc=1c YES\n50 05 4b 46 7f ff 0c 10 1c t=85000\n",
                OneWireText.good(85));
    }

    /** DS18B20 data sheet, table 1; thousandths as w1_DS18B20_convert_temp makes them. */
    @ParameterizedTest
    @CsvSource({
        "125, d0 07, 125000",
        "25.0625, 91 01, 25062",
        "10.125, a2 00, 10125",
        "0.5, 08 00, 500",
        "0, 00 00, 0",
        "-0.5, f8 ff, -500",
        "-10.125, 5e ff, -10125",
        "-25.0625, 6f fe, -25062",
        "-55, 90 fc, -55000"
    })
    void valuesAreThoseOfTheDataSheet(double celsius, String bytes, int milliCelsius) {
        String text = OneWireText.good(celsius);
        assertEquals(bytes, text.substring(0, 5));
        assertEquals(
                "t=" + milliCelsius, text.lines().skip(1).findFirst().orElseThrow().substring(27));
    }

    @Test
    void ourOwnDriverReadsBackWhatWasWritten() throws IOException {
        String address = "28-0000072431ab";
        Path file = Files.createDirectory(root.resolve(address)).resolve("w1_slave");
        for (double celsius = -30; celsius <= 70; celsius += 0.0625) {
            Files.writeString(file, OneWireText.good(celsius));
            Sample.Measured measured =
                    (Sample.Measured) new OneWireThermometer(root, address).read(1);
            assertEquals(celsius, measured.value(), 0.001);
        }
        Files.writeString(file, OneWireText.wrongChecksum(31));
        Sample.Failed failed = (Sample.Failed) new OneWireThermometer(root, address).read(1);
        assertEquals(Doubt.CHECKSUM, failed.why());
    }

    @Test
    void whatNoDs18b20ShowsIsRefused() {
        assertThrows(IllegalArgumentException.class, () -> OneWireText.good(125.1));
        assertThrows(IllegalArgumentException.class, () -> OneWireText.good(Double.NaN));
    }
}
