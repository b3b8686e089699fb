package io.evenwarm.agent.driver.watchdog;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import io.evenwarm.agent.testing.NotifySocket;
import java.io.IOException;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

@Timeout(30)
final class UnixDatagramTest {

    @TempDir private Path folder;

    private static byte[] ascii(String text) {
        return text.getBytes(StandardCharsets.US_ASCII);
    }

    /**
     * unix(7): a path ends with a zero; an abstract name begins with one and its length ends it.
     */
    @Test
    void theAddressIsAsUnixSocketsHaveIt() throws IOException {
        boolean isLittle = ByteOrder.nativeOrder() == ByteOrder.LITTLE_ENDIAN;
        byte low = (byte) (isLittle ? 1 : 0);
        byte high = (byte) (isLittle ? 0 : 1);
        assertArrayEquals(
                new byte[] {low, high, '/', 'r', '/', 'n', 0}, UnixDatagram.address("/r/n"));
        assertArrayEquals(new byte[] {low, high, 0, 'n', '2'}, UnixDatagram.address("@n2"));
    }

    @Test
    void aNameThatCantBeOneIsRefusedInWords() {
        assertEquals(
                "\"run/notify\" is neither a full path nor begins with @",
                assertThrows(IOException.class, () -> UnixDatagram.to("run/notify")).getMessage());
        assertThrows(IOException.class, () -> UnixDatagram.to("@"));
        // 107 octets and the zero fill sun_path's 108; one more does not fit.
        String longest = "/" + "x".repeat(106);
        UnixDatagram made = assertDoesNotThrowFor(longest);
        made.close();
        assertThrows(IOException.class, () -> UnixDatagram.to(longest + "x"));
    }

    private static UnixDatagram assertDoesNotThrowFor(String name) {
        try {
            return UnixDatagram.to(name);
        } catch (IOException e) {
            throw new AssertionError(e);
        }
    }

    @Test
    void datagramsArriveWholeAndInOrderAtAPath() throws IOException {
        try (NotifySocket there = NotifySocket.bind(folder.resolve("notify").toString());
                UnixDatagram here = UnixDatagram.to(there.name())) {
            here.send(ascii("READY=1\nWATCHDOG=1"));
            here.send(ascii("WATCHDOG=1"));
            assertEquals(Optional.of("READY=1\nWATCHDOG=1"), there.receive(5000));
            assertEquals(Optional.of("WATCHDOG=1"), there.receive(5000));
            assertEquals(Optional.empty(), there.receive(50));
        }
    }

    @Test
    void datagramsArriveAtAnAbstractName() throws IOException {
        String name = "@evenwarm-test-" + ProcessHandle.current().pid();
        try (NotifySocket there = NotifySocket.bind(name);
                UnixDatagram here = UnixDatagram.to(name)) {
            here.send(ascii("READY=1"));
            assertEquals(Optional.of("READY=1"), there.receive(5000));
        }
    }

    /** Control must not stand still because a service manager does. */
    @Test
    void aListenerThatTakesNothingCostsAnErrorAndNoWaiting() throws IOException {
        try (NotifySocket there = NotifySocket.bind(folder.resolve("full").toString());
                UnixDatagram here = UnixDatagram.to(there.name())) {
            IOException full =
                    assertThrows(
                            IOException.class,
                            () -> {
                                for (int i = 0; i < 100_000; i++) {
                                    here.send(ascii("WATCHDOG=1"));
                                }
                            });
            // errno(3) on Linux: EAGAIN is 11.
            assertTrue(
                    String.valueOf(full.getMessage()).endsWith("(errno 11)"),
                    () -> String.valueOf(full));
            assertEquals(Optional.of("WATCHDOG=1"), there.receive(5000));
            here.send(ascii("WATCHDOG=1"));
        }
    }

    @Test
    void withoutAListenerEachMessageIsAnError() throws IOException {
        try (UnixDatagram here = UnixDatagram.to(folder.resolve("nobody").toString())) {
            IOException none =
                    assertThrows(IOException.class, () -> here.send(ascii("WATCHDOG=1")));
            // ENOENT is 2.
            assertTrue(
                    String.valueOf(none.getMessage()).endsWith("(errno 2)"),
                    () -> String.valueOf(none));
        }
    }

    /** A receiver that is none of ours. */
    @Test
    void socatReceivesTheSame() throws Exception {
        Path path = folder.resolve("socat");
        Path got = folder.resolve("got");
        Process socat;
        try {
            socat =
                    new ProcessBuilder("socat", "-u", "UNIX-RECV:" + path, "OPEN:" + got + ",creat")
                            .redirectErrorStream(true)
                            .start();
        } catch (IOException e) {
            assumeTrue(false, "socat is missing (Debian: apt install socat)");
            return;
        }
        try (UnixDatagram here = UnixDatagram.to(path.toString())) {
            while (Files.notExists(path) || Files.notExists(got)) {
                assertTrue(socat.isAlive(), () -> "socat ended");
                TimeUnit.MILLISECONDS.sleep(20);
            }
            here.send(ascii("STATUS=two cabinets\n"));
            while (Files.size(got) == 0) {
                TimeUnit.MILLISECONDS.sleep(20);
            }
            assertEquals("STATUS=two cabinets\n", Files.readString(got));
        } finally {
            socat.destroy();
        }
    }
}
