package io.evenwarm.link;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.InetAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.CompletableFuture;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLException;
import javax.net.ssl.SSLServerSocket;
import javax.net.ssl.SSLSocket;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A server for browsers and the trust in servers of others, against each other. */
@Timeout(30)
final class ServingTlsTest {

    private final Path own;
    private final Path other;

    ServingTlsTest(@TempDir Path folder) throws IOException {
        own = folder.resolve("own.pem");
        other = folder.resolve("other.pem");
        Identity.create("a server").save(own);
        Identity.create("another").save(other);
    }

    /** Serves one connection, and gives what the client reads. */
    private static int read(SSLContext server, SSLContext client) throws IOException {
        try (SSLServerSocket listening =
                (SSLServerSocket)
                        server.getServerSocketFactory()
                                .createServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            CompletableFuture<Void> served =
                    CompletableFuture.runAsync(
                            () -> {
                                try (SSLSocket accepted = (SSLSocket) listening.accept()) {
                                    accepted.getOutputStream().write(42);
                                } catch (IOException e) {
                                    throw new java.io.UncheckedIOException(e);
                                }
                            });
            try (SSLSocket socket =
                    (SSLSocket)
                            client.getSocketFactory()
                                    .createSocket(
                                            InetAddress.getLoopbackAddress(),
                                            listening.getLocalPort())) {
                return socket.getInputStream().read();
            } finally {
                served.exceptionally(refused -> null).join();
            }
        }
    }

    @Test
    void aServerIsTrustedByItsOwnCertificateWhateverItIsServedFrom() throws IOException {
        SSLContext trust = Authority.trusting(own);
        assertEquals(42, read(ServingTls.of(Identity.load(own)), trust));
        assertEquals(42, read(ServingTls.of(own, own), trust));
    }

    @Test
    void aServerWithAnotherCertificateIsRefused() throws IOException {
        SSLContext trust = Authority.trusting(own);
        SSLContext server = ServingTls.of(Identity.load(other));
        assertThrows(SSLException.class, () -> read(server, trust));
    }

    @Test
    void filesThatHoldNoneOfItAreNamed() throws IOException {
        Path text = Files.writeString(own.resolveSibling("text.pem"), "no certificate");
        assertEquals(
                text + " holds no certificate",
                assertThrows(IOException.class, () -> Authority.trusting(text)).getMessage());
        assertEquals(
                text + " holds no certificate",
                assertThrows(IOException.class, () -> ServingTls.of(text, own)).getMessage());
        assertEquals(
                text + " holds no private key without a password",
                assertThrows(IOException.class, () -> ServingTls.of(own, text)).getMessage());
        Path broken =
                Files.writeString(
                        own.resolveSibling("broken.pem"),
                        "-----BEGIN CERTIFICATE-----\n%%%\n-----END CERTIFICATE-----\n");
        String words =
                String.valueOf(
                        assertThrows(IOException.class, () -> Authority.trusting(broken))
                                .getMessage());
        assertTrue(words.contains("broken.pem") || words.contains("malformed"), words);
    }
}
