package io.evenwarm.link;

import java.io.IOException;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;

/**
 * A bounded queue of octets from one thread to another: blocks its writer when full, its reader
 * when empty. Closing either end is what frees a waiting thread; an interrupt does not.
 */
final class OctetRing {

    static final int CAPACITY_OCTETS = 65_536;

    /** Guards all that follows. */
    private final ReentrantLock lock = new ReentrantLock();

    private final Condition changed = lock.newCondition();
    private final byte[] held = new byte[CAPACITY_OCTETS];
    private int first;
    private int count;
    private boolean writerGone;
    private boolean readerGone;

    /**
     * Waits for octets; −1 when the writer is gone and all it wrote was read, or this was closed.
     */
    int read(byte[] buffer) {
        lock.lock();
        try {
            while (count == 0 && !writerGone && !readerGone) {
                changed.awaitUninterruptibly();
            }
            if (count == 0 || readerGone) {
                return -1;
            }
            int taken = Math.min(Math.min(count, buffer.length), CAPACITY_OCTETS - first);
            System.arraycopy(held, first, buffer, 0, taken);
            first = (first + taken) % CAPACITY_OCTETS;
            count -= taken;
            changed.signalAll();
            return taken;
        } finally {
            lock.unlock();
        }
    }

    /** Writes all; waits for room. */
    void write(byte[] octets) throws IOException {
        lock.lock();
        try {
            int written = 0;
            while (written < octets.length) {
                while (count == CAPACITY_OCTETS && !readerGone && !writerGone) {
                    changed.awaitUninterruptibly();
                }
                if (readerGone || writerGone) {
                    throw new IOException("it has been closed");
                }
                int end = (first + count) % CAPACITY_OCTETS;
                int room = Math.min(CAPACITY_OCTETS - count, CAPACITY_OCTETS - end);
                int added = Math.min(room, octets.length - written);
                System.arraycopy(octets, written, held, end, added);
                count += added;
                written += added;
                changed.signalAll();
            }
        } finally {
            lock.unlock();
        }
    }

    void closeForWriting() {
        lock.lock();
        try {
            writerGone = true;
            changed.signalAll();
        } finally {
            lock.unlock();
        }
    }

    void closeForReading() {
        lock.lock();
        try {
            readerGone = true;
            changed.signalAll();
        } finally {
            lock.unlock();
        }
    }
}
