package io.evenwarm.agent.driver.pi4j;

import java.io.IOException;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;

/** One input line and who listens to it. */
final class GpioInput {

    private static final Logger LOG = System.getLogger(GpioInput.class.getName());

    private final GpioLines lines;
    private final int gpio;
    private final GpioPull pull;
    private final Listener listener;
    private boolean isOpen;
    private boolean told;

    /** Hears the levels of one line. */
    interface Listener extends GpioLines.Changes {
        /** The line is open, and was at this level. */
        void opened(boolean high);
    }

    GpioInput(GpioLines lines, int gpio, GpioPull pull, Listener listener) {
        this.lines = lines;
        this.gpio = gpio;
        this.pull = pull;
        this.listener = listener;
    }

    /** Whether it is open now. */
    boolean open() {
        if (isOpen) {
            return true;
        }
        try {
            listener.opened(lines.input(gpio, pull, listener).isHigh());
            isOpen = true;
        } catch (IOException e) {
            if (!told) {
                told = true;
                LOG.log(Level.WARNING, "input: {0}", e.getMessage());
            }
        }
        return isOpen;
    }
}
