package io.evenwarm.link;

import com.fazecast.jSerialComm.SerialPort;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.Optional;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;

/**
 * Writes to a serial port on a thread of its own, because a write to a line that takes nothing
 * blocks for ever and the library's write timeout does not end it.
 *
 * <p>At most {@value #CHUNKS_MAX} chunks of {@value #CHUNK_OCTETS} octets wait. When they do, a
 * sender waits as long as the line still takes a chunk now and then; when it takes none for the
 * time limit, the sender gets an exception and the line counts as lost.
 */
final class SerialWriter implements Runnable {

    /** A tenth of a second at 38400 baud, so that progress on a slow line can be seen. */
    static final int CHUNK_OCTETS = 384;

    static final int CHUNKS_MAX = 64;

    private final SerialPort port;
    private final String name;
    private final Duration writeMax;

    /** Guards what follows. */
    private final ReentrantLock lock = new ReentrantLock();

    private final Condition changed = lock.newCondition();
    private final Deque<byte[]> waiting = new ArrayDeque<>();
    private boolean writing;
    private boolean ending;
    private boolean lost;

    private SerialWriter(SerialPort port, String name, Duration writeMax) {
        this.port = port;
        this.name = name;
        this.writeMax = writeMax;
    }

    static SerialWriter start(SerialPort port, String name, Duration writeMax) {
        SerialWriter writer = new SerialWriter(port, name, writeMax);
        Thread thread = new Thread(writer, "evenwarm serial writer: " + name);
        thread.setDaemon(true);
        thread.start();
        return writer;
    }

    static LinkException gone(String name) {
        return new LinkException(
                "the serial port " + name + " is gone: unplugged, or the other end has ended");
    }

    /** Takes over all of {@code octets}. */
    void put(byte[] octets) throws LinkException {
        for (int start = 0; start < octets.length; start += CHUNK_OCTETS) {
            putChunk(
                    Arrays.copyOfRange(
                            octets, start, Math.min(start + CHUNK_OCTETS, octets.length)));
        }
    }

    private void putChunk(byte[] chunk) throws LinkException {
        lock.lock();
        try {
            long leftNanos = writeMax.toNanos();
            while (waiting.size() == CHUNKS_MAX && !ending && !lost) {
                if (leftNanos <= 0) {
                    lost = true;
                    throw new LinkException(
                            "the serial port "
                                    + name
                                    + " took nothing for "
                                    + writeMax.toMillis()
                                    + " ms: does anything read at the other end?");
                }
                leftNanos = changed.awaitNanos(leftNanos);
            }
            if (ending || lost) {
                throw gone(name);
            }
            waiting.add(chunk);
            changed.signalAll();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new LinkException("interrupted while writing to the serial port " + name, e);
        } finally {
            lock.unlock();
        }
    }

    /** Takes no more, and comes back when all has left, or after {@code max}. */
    void endAfterDraining(Duration max) {
        lock.lock();
        try {
            ending = true;
            changed.signalAll();
            long leftNanos = max.toNanos();
            while ((writing || !waiting.isEmpty()) && !lost && leftNanos > 0) {
                leftNanos = changed.awaitNanos(leftNanos);
            }
            waiting.clear();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } finally {
            lock.unlock();
        }
    }

    @Override
    public void run() {
        Optional<byte[]> chunk = next();
        while (chunk.isPresent()) {
            boolean written = writeAll(chunk.get());
            lock.lock();
            try {
                writing = false;
                lost |= !written;
                changed.signalAll();
            } finally {
                lock.unlock();
            }
            chunk = written ? next() : Optional.empty();
        }
    }

    private Optional<byte[]> next() {
        lock.lock();
        try {
            while (waiting.isEmpty() && !ending && !lost) {
                changed.awaitUninterruptibly();
            }
            Optional<byte[]> chunk = lost ? Optional.empty() : Optional.ofNullable(waiting.poll());
            writing = chunk.isPresent();
            changed.signalAll();
            return chunk;
        } finally {
            lock.unlock();
        }
    }

    /** A lost port answers 0 or −1; a short count only says that it may be lost. */
    private boolean writeAll(byte[] chunk) {
        int written = 0;
        while (written < chunk.length) {
            int count = port.writeBytes(chunk, chunk.length - written, written);
            if (count <= 0) {
                return false;
            }
            written += count;
        }
        return true;
    }
}
