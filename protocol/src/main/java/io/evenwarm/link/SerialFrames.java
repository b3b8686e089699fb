package io.evenwarm.link;

import io.evenwarm.frame.FrameFaults;
import io.evenwarm.frame.FrameReader;
import java.io.IOException;
import java.util.function.Consumer;

/**
 * A serial port to something that sends our frames but not our messages, such as a microcontroller.
 * Only listens.
 *
 * <p>One thread reads; {@link #close()} comes from any thread and frees it.
 */
public final class SerialFrames implements AutoCloseable {

    private static final int READ_OCTETS = 1024;

    private final Octets octets;
    private final String port;
    private final FrameReader reader = new FrameReader();
    private final byte[] buffer = new byte[READ_OCTETS];

    private SerialFrames(Octets octets, String port) {
        this.octets = octets;
        this.port = port;
    }

    /**
     * Opens a port, for this reader alone, as {@link SerialLinks#open(String, int)} does.
     *
     * @throws LinkException when the port is missing, busy, or can't be set so
     */
    public static SerialFrames open(String port, int baud) throws LinkException {
        return new SerialFrames(SerialLinks.octets(port, baud, SerialLinks.WRITE_MAX), port);
    }

    /**
     * Waits for octets, whatever they are.
     *
     * @param payloads is given the payload of each whole, undamaged frame that ends in them
     * @throws LinkException when the port is gone or was closed
     */
    public void read(Consumer<byte[]> payloads) throws LinkException {
        int count;
        try {
            count = octets.read(buffer);
        } catch (LinkException e) {
            throw e;
        } catch (IOException e) {
            throw new LinkException("the serial port " + port + " failed: " + e.getMessage(), e);
        }
        if (count < 0) {
            throw new LinkException("the serial port " + port + " was closed");
        }
        reader.feed(buffer, 0, count, payloads);
    }

    /** What was discarded so far, by kind. */
    public FrameFaults faults() {
        return reader.faults();
    }

    @Override
    public void close() {
        octets.close();
    }
}
