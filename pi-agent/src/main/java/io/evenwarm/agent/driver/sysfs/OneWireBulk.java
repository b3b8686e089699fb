package io.evenwarm.agent.driver.sysfs;

import io.evenwarm.agent.driver.BusReader;
import java.io.IOException;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.OptionalLong;
import java.util.concurrent.TimeUnit;

/**
 * Has all thermometers of a 1-Wire bus convert at once, where the kernel offers it [1]: {@code
 * trigger} into the bus master's {@code therm_bulk_read} begins, and until a value of it was
 * fetched the file says −1 (converting) or 1 (done). The probes' own files then answer without a
 * conversion of their own. A bus of n probes takes 0.75 s a round that way, not n times as much.
 *
 * <p>Where the file is missing (an older kernel), may not be written, or fails, each probe converts
 * by itself as it is read.
 *
 * <p>[1] Linux kernel, Documentation/w1/slaves/w1_therm.rst
 */
public final class OneWireBulk implements BusReader.RoundStart {

    private static final Logger LOG = System.getLogger(OneWireBulk.class.getName());
    private static final ByteBuffer TRIGGER =
            ByteBuffer.wrap("trigger\n".getBytes(StandardCharsets.US_ASCII)).asReadOnlyBuffer();
    private static final long POLL_MILLIS = 50;

    /** More than twice the longest conversion (DS18B20 datasheet, 750 ms at 12 bits). */
    private static final int POLLS = 36;

    private static final String CONVERTING = "-1";

    private final Path file;
    private final Pause pause;
    private boolean told;

    /**
     * @param folder Linux's {@code /sys/bus/w1/devices}, or a stand-in
     * @param bus the bus master's name, as {@link OneWireThermometer#busOf} has it
     */
    public OneWireBulk(Path folder, String bus) {
        this(folder, bus, TimeUnit.MILLISECONDS::sleep);
    }

    OneWireBulk(Path folder, String bus, Pause pause) {
        this.file = folder.resolve(bus).resolve("therm_bulk_read");
        this.pause = pause;
    }

    @Override
    public OptionalLong begin(long nowNanos) {
        try {
            if (Files.notExists(file)) {
                return OptionalLong.empty();
            }
            trigger();
            for (int i = 0; i < POLLS; i++) {
                pause.forMillis(POLL_MILLIS);
                if (!SysfsFile.read(file).equals(CONVERTING)) {
                    told = false;
                    return OptionalLong.of(nowNanos);
                }
            }
            tell(file + " says for " + POLLS * POLL_MILLIS + " ms that a conversion is under way");
        } catch (NoSuchFileException e) {
            // Gone in between; the probes themselves will say so.
            return OptionalLong.empty();
        } catch (IOException e) {
            tell(
                    file
                            + " can't be used ("
                            + e.getMessage()
                            + "): the probes of this bus are read one after another");
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        return OptionalLong.empty();
    }

    private void trigger() throws IOException {
        try (FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE)) {
            channel.write(TRIGGER.duplicate());
        }
    }

    private void tell(String words) {
        if (!told) {
            told = true;
            LOG.log(Level.WARNING, "{0}", words);
        }
    }

    /** Waits. */
    @FunctionalInterface
    interface Pause {
        void forMillis(long millis) throws InterruptedException;
    }
}
