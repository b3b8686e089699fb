package io.evenwarm.link;

import java.io.IOException;

/**
 * Octets to and from one other program: what the kinds of link differ in.
 *
 * <p>Threads: one reads while one writes; {@link #close()} comes from any thread, any number of
 * times, and frees both. It may take up to a second to let out what was handed over.
 */
interface Octets {

    /**
     * Waits for octets.
     *
     * @return how many were put into {@code buffer}, at least one; −1 when the other side is gone
     */
    int read(byte[] buffer) throws IOException;

    /** Hands over all of {@code octets}; waits while the other side takes none. */
    void write(byte[] octets) throws IOException;

    void close();
}
