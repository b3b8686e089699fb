package io.evenwarm.agent.driver.pi4j;

import java.io.IOException;

/** One device on an I²C bus: the lowest edge, below which everything belongs to Pi4J and Linux. */
interface I2cDevice extends AutoCloseable {

    /**
     * Sends octets. May take as long as the bus takes, or hang with it.
     *
     * @throws IOException when the device does not acknowledge or the bus fails
     */
    void write(byte[] octets) throws IOException;

    /**
     * Fetches octets.
     *
     * @return how many came
     * @throws IOException when the device does not acknowledge or the bus fails
     */
    int read(byte[] into) throws IOException;

    @Override
    void close();

    /** Opens devices. */
    @FunctionalInterface
    interface Opener {

        /**
         * Opens a device; touches it not.
         *
         * @param bus the number in {@code /dev/i2c-N}
         * @param address 7 bits
         * @throws IOException when the bus is not there, or may not be used
         */
        I2cDevice open(int bus, int address) throws IOException;
    }
}
