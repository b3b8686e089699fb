package io.evenwarm.agent.driver.pi4j;

import com.pi4j.Pi4J;
import com.pi4j.context.Context;
import com.pi4j.io.i2c.I2C;
import com.pi4j.io.i2c.I2CProvider;
import com.pi4j.plugin.linuxfs.LinuxFsPlugin;
import com.pi4j.plugin.linuxfs.provider.i2c.LinuxFsI2CProvider;
import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.function.Supplier;

/**
 * Linux's I²C buses through Pi4J.
 *
 * <p>Each open device has a Pi4J context, and with it a file handle, of its own. Pi4J 2.8 notes an
 * address as selected before it selects it; after a selection that failed it would talk to
 * whichever device was selected before, and hand out that one's values, checksums and all.
 */
public final class I2cBuses {

    private static final Path DEV = Path.of("/dev");
    private static final Path SYSFS = Path.of("/sys/bus/i2c/devices");

    private final I2cDevice.Opener opener;

    private I2cBuses(I2cDevice.Opener opener) {
        this.opener = opener;
    }

    /** Those of this machine. */
    public static I2cBuses ofThisMachine() {
        return new I2cBuses(
                opener(
                        DEV,
                        SYSFS,
                        () ->
                                Pi4J.newContextBuilder()
                                        .noAutoDetect()
                                        .disableShutdownHook()
                                        .add(LinuxFsI2CProvider.newInstance())
                                        .build(),
                        LinuxFsPlugin.I2C_PROVIDER_ID));
    }

    static I2cDevice.Opener opener(
            Path dev, Path sysfs, Supplier<Context> contexts, String provider) {
        return (bus, address) -> {
            checkBus(dev.resolve("i2c-" + bus));
            checkFree(sysfs.resolve("%d-%04x".formatted(bus, address)));
            return open(contexts, provider, bus, address);
        };
    }

    private static void checkBus(Path device) throws IOException {
        if (Files.notExists(device)) {
            throw new NoSuchFileException(device.toString());
        }
        if (!Files.isReadable(device) || !Files.isWritable(device)) {
            throw new AccessDeniedException(device.toString());
        }
    }

    private static void checkFree(Path device) throws IOException {
        Path driver = device.resolve("driver");
        if (Files.exists(driver)) {
            throw new IOException(
                    "it belongs to the kernel's driver "
                            + driver.toRealPath().getFileName()
                            + ": use driver = \"hwmon\" for it, or take its overlay out of"
                            + " config.txt");
        }
    }

    private static I2cDevice open(Supplier<Context> contexts, String provider, int bus, int address)
            throws IOException {
        Context context;
        try {
            context = contexts.get();
        } catch (RuntimeException | LinkageError e) {
            throw new IOException("Pi4J can't start: " + e, e);
        }
        try {
            I2CProvider buses = context.provider(provider);
            I2C device =
                    buses.create(
                            I2C.newConfigBuilder(context)
                                    .id("evenwarm-" + bus + "-" + address)
                                    .bus(bus)
                                    .device(address)
                                    .build());
            return new Device(context, device);
        } catch (RuntimeException | LinkageError e) {
            Device.end(context);
            throw asIoException(e);
        }
    }

    /** What Linux said, out of what Pi4J put around it. */
    private static IOException asIoException(Throwable thrown) {
        for (Throwable cause = thrown; cause != null; cause = cause.getCause()) {
            if (cause instanceof IOException io) {
                return io;
            }
        }
        return new IOException(String.valueOf(thrown.getMessage()), thrown);
    }

    I2cDevice.Opener opener() {
        return opener;
    }

    private record Device(Context context, I2C device) implements I2cDevice {

        @Override
        public void write(byte[] octets) throws IOException {
            try {
                device.write(octets);
            } catch (RuntimeException | LinkageError e) {
                throw asIoException(e);
            }
        }

        @Override
        public int read(byte[] into) throws IOException {
            try {
                return device.read(into);
            } catch (RuntimeException | LinkageError e) {
                throw asIoException(e);
            }
        }

        @Override
        public void close() {
            end(context);
        }

        static void end(Context context) {
            try {
                context.shutdown();
            } catch (RuntimeException | LinkageError e) {
                System.getLogger(I2cBuses.class.getName())
                        .log(System.Logger.Level.DEBUG, "Pi4J's end", e);
            }
        }
    }
}
