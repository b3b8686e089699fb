package io.evenwarm.agent.driver.pi4j;

import java.io.IOException;

/** GPIO lines by number: the lowest edge, below which everything belongs to Pi4J and Linux. */
interface GpioLines extends AutoCloseable {

    /**
     * Takes a line as an output.
     *
     * @param gpio the number that the Pi's maker gives it
     * @param high its level from the first moment on, and again at the end
     * @throws IOException when it can't be had
     */
    OutputLine output(int gpio, boolean high) throws IOException;

    /**
     * Takes a line as an input.
     *
     * @param changes is told each new level, from a thread of the library
     * @throws IOException when it can't be had
     */
    InputLine input(int gpio, GpioPull pull, Changes changes) throws IOException;

    /** Lets go of all lines, outputs at their first level. */
    @Override
    void close();

    /** A line that is an output. */
    @FunctionalInterface
    interface OutputLine {
        /**
         * Sets its level.
         *
         * @throws IOException when it can't be set
         */
        void set(boolean high) throws IOException;
    }

    /** A line that is an input. */
    @FunctionalInterface
    interface InputLine {
        /**
         * Its level now.
         *
         * @throws IOException when it can't be read
         */
        boolean isHigh() throws IOException;
    }

    /** Hears of edges. */
    @FunctionalInterface
    interface Changes {
        void to(boolean high);
    }
}
