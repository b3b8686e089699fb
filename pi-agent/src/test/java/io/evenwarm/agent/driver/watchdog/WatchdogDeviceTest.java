package io.evenwarm.agent.driver.watchdog;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A plain file stands for the device and keeps what was written to it. Any write keeps the machine
 * up; only a {@code V} as the last octet before the close takes the restart back (Linux kernel,
 * Documentation/watchdog/watchdog-api.rst, "Magic Close feature").
 */
final class WatchdogDeviceTest {

    @TempDir private Path folder;

    private Path device() throws IOException {
        return Files.createFile(folder.resolve("watchdog"));
    }

    @Test
    void eachTickWritesOneOctetAndNoneOfThemDisarms() throws IOException {
        Path path = device();
        try (WatchdogDevice device = WatchdogDevice.arm(path)) {
            device.tickCompleted();
            device.tickCompleted();
            device.tickCompleted();
        }
        assertArrayEquals(new byte[] {0, 0, 0}, Files.readAllBytes(path));
    }

    @Test
    void disarmingWritesTheMagicLetterLast() throws IOException {
        Path path = device();
        try (WatchdogDevice device = WatchdogDevice.arm(path)) {
            device.tickCompleted();
            device.disarm();
        }
        assertArrayEquals(new byte[] {0, 'V'}, Files.readAllBytes(path));
    }

    @Test
    void aDeviceThatIsNotThereIsNotMade() {
        Path path = folder.resolve("none");
        assertThrows(IOException.class, () -> WatchdogDevice.arm(path).close());
        assertThrows(IOException.class, () -> Files.size(path));
    }

    @Test
    void aTickAfterTheDeviceIsGoneThrowsNothing() throws IOException {
        WatchdogDevice device = WatchdogDevice.arm(device());
        device.close();
        device.tickCompleted();
        device.disarm();
    }
}
