package io.evenwarm.agent.driver.sysfs;

import java.util.Locale;

/**
 * What Linux's {@code w1_therm} would show of a DS18B20 in its {@code w1_slave} file [1]: for
 * simulations that stand behind files instead of behind the ports.
 *
 * <p>[1] Linux kernel, Documentation/w1/slaves/w1_therm.rst and drivers/w1/slaves/w1_therm.c
 * (w1_slave_show)
 */
public final class OneWireText {

    private static final int BITS_PER_BYTE = 8;

    private OneWireText() {}

    /**
     * The file's two lines for a good conversion.
     *
     * @param celsius −55 to 125 °C; rounded to the nearest 1/16 °C
     */
    public static String good(double celsius) {
        return text(celsius, true);
    }

    /** As {@link #good}, but with a checksum that does not match the bytes. */
    public static String wrongChecksum(double celsius) {
        return text(celsius, false);
    }

    private static String text(double celsius, boolean isSound) {
        if (!(celsius >= -55 && celsius <= 125)) {
            throw new IllegalArgumentException(
                    "a DS18B20 shows -55 to 125 °C but was to show " + celsius);
        }
        int sixteenths = (int) Math.rint(celsius * 16);
        // Alarm limits and the reserved bytes as they leave the factory; 0x7f: 12 bits.
        int[] scratchpad = {
            sixteenths & 0xff, (sixteenths >> 8) & 0xff, 0x4b, 0x46, 0x7f, 0xff, 0x0c, 0x10
        };
        int crc = crc8(scratchpad);
        int sent = isSound ? crc : crc ^ 0x01;
        StringBuilder bytes = new StringBuilder();
        for (int value : scratchpad) {
            bytes.append(String.format(Locale.ROOT, "%02x ", value));
        }
        bytes.append(String.format(Locale.ROOT, "%02x ", sent));
        // The kernel divides as C does, towards zero.
        int milliCelsius = sixteenths * 1000 / 16;
        return String.format(
                Locale.ROOT,
                "%s: crc=%02x %s\n%st=%d\n",
                bytes,
                crc,
                isSound ? "YES" : "NO",
                bytes,
                milliCelsius);
    }

    /** CRC-8 of 1-Wire: x⁸+x⁵+x⁴+1, least bit first, starting at 0 (Maxim AN27). */
    static int crc8(int... bytes) {
        int crc = 0;
        for (int value : bytes) {
            crc ^= value;
            for (int bit = 0; bit < BITS_PER_BYTE; bit++) {
                crc = (crc & 1) == 0 ? crc >> 1 : (crc >> 1) ^ 0x8c;
            }
        }
        return crc;
    }
}
