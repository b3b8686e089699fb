package io.evenwarm.agent.driver.pi4j;

import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.OutputException;
import java.io.IOException;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.util.Optional;
import java.util.concurrent.locks.ReentrantLock;

/**
 * A line that switches something. It is taken at its off level, driven at every call, and left at
 * its off level.
 *
 * <p>Driving a line that was taken holds no lock, so that a call which hangs in the kernel does not
 * keep the lapse timer from driving it off. While one thread takes the line, another one that wants
 * to drive it gets an exception at once.
 */
final class GpioOutput implements Output {

    private static final Logger LOG = System.getLogger(GpioOutput.class.getName());

    private final GpioLines lines;
    private final int gpio;
    private final boolean activeLow;
    private final ReentrantLock taking = new ReentrantLock();
    private volatile Optional<GpioLines.OutputLine> line = Optional.empty();

    GpioOutput(GpioLines lines, int gpio, boolean activeLow) {
        this.lines = lines;
        this.gpio = gpio;
        this.activeLow = activeLow;
    }

    @Override
    public void drive(boolean energised) throws OutputException {
        try {
            Optional<GpioLines.OutputLine> there = line;
            if (there.isEmpty()) {
                there = Optional.of(take());
            }
            there.get().set(energised != activeLow);
        } catch (OutputException e) {
            throw e;
        } catch (IOException e) {
            throw new OutputException(
                    "GPIO"
                            + gpio
                            + " could not be driven "
                            + (energised ? "on" : "off")
                            + ": "
                            + e.getMessage(),
                    e);
        }
    }

    private GpioLines.OutputLine take() throws IOException {
        if (!taking.tryLock()) {
            throw new OutputException("GPIO" + gpio + " is just being taken");
        }
        try {
            if (line.isEmpty()) {
                line = Optional.of(lines.output(gpio, activeLow));
            }
            return line.get();
        } finally {
            taking.unlock();
        }
    }

    @Override
    public void close() {
        try {
            drive(false);
        } catch (OutputException e) {
            LOG.log(Level.ERROR, "could not drive a line off: {0}", e.getMessage());
        }
    }
}
