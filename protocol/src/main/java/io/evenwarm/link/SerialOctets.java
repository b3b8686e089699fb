package io.evenwarm.link;

import com.fazecast.jSerialComm.SerialPort;
import java.io.IOException;
import java.time.Duration;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;

/**
 * An open serial port.
 *
 * <p>A plain read loop and no event listener: on a lost port the library's disconnect event fires
 * without end.
 */
final class SerialOctets implements Octets {

    private static final Duration DRAIN_MAX = Duration.ofMillis(500);

    private static final int POLL_MILLIS = 5;

    /** 64 octets of a UART's own at 9600 baud. */
    private static final int FIFO_MILLIS = 70;

    private final SerialPort port;
    private final String name;
    private final SerialWriter writer;
    private final AtomicBoolean closed = new AtomicBoolean();

    private SerialOctets(SerialPort port, String name, SerialWriter writer) {
        this.port = port;
        this.name = name;
        this.writer = writer;
    }

    static SerialOctets over(SerialPort port, String name, Duration writeMax) {
        return new SerialOctets(port, name, SerialWriter.start(port, name, writeMax));
    }

    @Override
    public int read(byte[] buffer) throws IOException {
        while (true) {
            int count = port.readBytes(buffer, buffer.length);
            if (count > 0) {
                return count;
            }
            if (closed.get()) {
                return -1;
            }
            if (count < 0) {
                // isOpen() stays true for a port that was unplugged.
                throw SerialWriter.gone(name);
            }
        }
    }

    @Override
    public void write(byte[] octets) throws IOException {
        writer.put(octets);
    }

    /** Gives what was handed over a moment to leave, then frees a blocked read and write. */
    @Override
    public void close() {
        if (!closed.compareAndSet(false, true)) {
            return;
        }
        writer.endAfterDraining(DRAIN_MAX);
        waitForThePortsOwnBuffers();
        port.closePort();
    }

    /** Closing throws away what the system and the port's own first-in-first-out still hold. */
    private void waitForThePortsOwnBuffers() {
        try {
            for (int waited = 0;
                    port.bytesAwaitingWrite() > 0 && waited < DRAIN_MAX.toMillis();
                    waited += POLL_MILLIS) {
                TimeUnit.MILLISECONDS.sleep(POLL_MILLIS);
            }
            TimeUnit.MILLISECONDS.sleep(FIFO_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
