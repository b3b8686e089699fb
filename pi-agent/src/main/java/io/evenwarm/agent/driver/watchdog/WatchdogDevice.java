package io.evenwarm.agent.driver.watchdog;

import io.evenwarm.agent.port.Watchdog;
import java.io.IOException;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/**
 * The kernel's watchdog device. Opening it arms it; from then on the machine restarts itself when
 * nothing is written for the device's time (15 s on a Raspberry Pi [2]), also when the process that
 * opened it has ended. Only a {@code V} right before the close takes that back, and on a kernel
 * built to refuse it nothing does [1].
 *
 * <p>Threads: {@link #tickCompleted} belongs to the control thread; the others to whoever ends it.
 *
 * <p>[1] Linux kernel, Documentation/watchdog/watchdog-api.rst. [2] the same,
 * drivers/watchdog/bcm2835_wdt.c
 */
public final class WatchdogDevice implements Watchdog, AutoCloseable {

    private static final Logger LOG = System.getLogger(WatchdogDevice.class.getName());
    private static final byte ALIVE = 0;
    private static final byte DISARM = 'V';

    /** The first failure is logged, then one in so many: at 1 Hz one line an hour. */
    private static final long LOG_EVERY = 3600;

    private final Path path;
    private final FileChannel device;
    private long failures;

    private WatchdogDevice(Path path, FileChannel device) {
        this.path = path;
        this.device = device;
    }

    /**
     * Arms the device.
     *
     * @throws IOException when it is not there, not allowed or in use by somebody else
     */
    public static WatchdogDevice arm(Path path) throws IOException {
        return new WatchdogDevice(path, FileChannel.open(path, StandardOpenOption.WRITE));
    }

    @Override
    public void tickCompleted() {
        try {
            write(ALIVE);
        } catch (IOException e) {
            failures++;
            if (failures % LOG_EVERY == 1) {
                LOG.log(
                        Level.ERROR,
                        "{0} can''t be written ({1} times so far), so that this machine will"
                                + " restart: {2}",
                        path,
                        failures,
                        e.getMessage());
            }
        }
    }

    /** Takes the restart back, where the kernel allows it. Only {@link #close} may follow. */
    public void disarm() {
        try {
            write(DISARM);
        } catch (IOException e) {
            LOG.log(
                    Level.ERROR,
                    "{0} could not be disarmed, so that this machine will restart: {1}",
                    path,
                    e.getMessage());
        }
    }

    private void write(byte octet) throws IOException {
        ByteBuffer one = ByteBuffer.wrap(new byte[] {octet});
        while (one.hasRemaining()) {
            device.write(one);
        }
    }

    /** Lets go of the device; unless it was disarmed just before, the machine will restart. */
    @Override
    public void close() {
        try {
            device.close();
        } catch (IOException e) {
            LOG.log(Level.DEBUG, "closing " + path, e);
        }
    }
}
