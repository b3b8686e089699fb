package io.evenwarm.agent.driver.pi4j;

import java.util.concurrent.TimeUnit;

/**
 * What the sensors of one family understand, and what their raw words mean.
 *
 * <p>SHT3x: SHT3x-DIS datasheet v5: 4.3 (single shot, high repeatability, no clock stretching),
 * table 4 (15 ms at most), 4.9 (soft reset), 4.13 (conversion). SHT4x: from memory of the SHT4x
 * datasheet: measure with high precision FD, 8.3 ms at most, soft reset 94, conversion.
 */
enum ShtKind {
    SHT3X("sht3x", 2, 0x2400, 16, 0x30A2, 0, 100),
    SHT4X("sht4x", 1, 0xFD, 10, 0x94, -6, 125);

    /** After a soft reset: 1.5 ms at most (SHT3x-DIS datasheet, table 4). */
    static final long RESET_NANOS = TimeUnit.MILLISECONDS.toNanos(3);

    private static final double FULL_SCALE = 65_535;

    private final String word;
    private final int commandOctets;
    private final int measure;
    private final long measureNanos;
    private final int softReset;
    private final double humidityAtZero;
    private final double humiditySpan;

    ShtKind(
            String word,
            int commandOctets,
            int measure,
            long measureMillis,
            int softReset,
            double humidityAtZero,
            double humiditySpan) {
        this.word = word;
        this.commandOctets = commandOctets;
        this.measure = measure;
        this.measureNanos = TimeUnit.MILLISECONDS.toNanos(measureMillis);
        this.softReset = softReset;
        this.humidityAtZero = humidityAtZero;
        this.humiditySpan = humiditySpan;
    }

    /** As in an address of the configuration. */
    String word() {
        return word;
    }

    byte[] measure() {
        return command(measure);
    }

    /** From the command to the moment at which the result can be fetched. */
    long measureNanos() {
        return measureNanos;
    }

    byte[] softReset() {
        return command(softReset);
    }

    private byte[] command(int code) {
        return commandOctets == 1
                ? new byte[] {(byte) code}
                : new byte[] {(byte) (code >> Byte.SIZE), (byte) code};
    }

    /** From −45 to 130 °C. */
    static double celsius(int raw) {
        return -45 + 175 * raw / FULL_SCALE;
    }

    /**
     * In percent; what lies beyond 0 to 100 by the sensor's tolerance is cut, as its maker says.
     */
    double percentRelativeHumidity(int raw) {
        double percent = humidityAtZero + humiditySpan * raw / FULL_SCALE;
        return Math.min(100, Math.max(0, percent));
    }
}
