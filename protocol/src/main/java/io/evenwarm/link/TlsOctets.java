package io.evenwarm.link;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.Socket;
import java.net.SocketException;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import javax.net.ssl.SSLException;
import javax.net.ssl.SSLSocket;

/** A TLS socket over the plain one that it was layered on. */
final class TlsOctets implements Octets {

    private static final long CLOSE_NOTIFY_MILLIS_MAX = 250;

    private final Socket plain;
    private final SSLSocket secure;
    private final InputStream in;
    private final OutputStream out;
    private final AtomicBoolean writing = new AtomicBoolean();
    private final AtomicBoolean closed = new AtomicBoolean();

    TlsOctets(Socket plain, SSLSocket secure) throws IOException {
        this.plain = plain;
        this.secure = secure;
        this.in = secure.getInputStream();
        this.out = secure.getOutputStream();
    }

    @Override
    public int read(byte[] buffer) throws IOException {
        try {
            return in.read(buffer);
        } catch (SSLException e) {
            throw new LinkException(TlsRefusals.words(e), e);
        } catch (SocketException e) {
            // A reset: the other program ended without a word.
            throw new LinkException("the other side is gone: " + e.getMessage(), e);
        }
    }

    @Override
    public void write(byte[] octets) throws IOException {
        writing.set(true);
        try {
            out.write(octets);
            out.flush();
        } finally {
            writing.set(false);
        }
    }

    /**
     * Says goodbye as TLS asks (close_notify, RFC 8446 s.6.1) when that can be done without waiting
     * for the other side, then closes the plain socket, which frees a blocked read or write where
     * closing the TLS socket would wait for them.
     */
    @Override
    public void close() {
        if (!closed.compareAndSet(false, true)) {
            return;
        }
        if (!writing.get()) {
            sayGoodbye();
        }
        Closing.quietly(plain);
    }

    private void sayGoodbye() {
        CountDownLatch said = new CountDownLatch(1);
        Thread speaker =
                new Thread(
                        () -> {
                            try {
                                secure.shutdownOutput();
                            } catch (IOException e) {
                                // The other side is gone already; the plain close follows.
                            } finally {
                                said.countDown();
                            }
                        },
                        "evenwarm link goodbye");
        speaker.setDaemon(true);
        speaker.start();
        try {
            if (!said.await(CLOSE_NOTIFY_MILLIS_MAX, TimeUnit.MILLISECONDS)) {
                return;
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
