package io.evenwarm.frame;

import java.util.Arrays;
import java.util.Objects;
import java.util.function.Consumer;
import java.util.zip.CRC32C;

/**
 * Finds frames in octets that arrive in pieces of any size, with any damage.
 *
 * <p>Not thread-safe: one thread feeds it. It never throws for what came over the line, and never
 * holds more than one payload of {@value FrameWriter#MAX_PAYLOAD_OCTETS} octets with its checksum.
 *
 * <p>What is wrong with a frame is judged at its closing flag, after RFC 1662 s.4.3 and 4.4: a
 * frame that ends in an escape was given up by its sender (aborted), one without room for payload
 * and checksum is too short, one too long is skipped to its flag. None of them counts as a bad
 * checksum. Nothing between two flags is time fill and counts as nothing; so does what comes before
 * the first flag. The flag that ends a frame may begin the next one. Bare XON and XOFF are not data
 * (the sender escapes them): something on the line put them in, and they are taken out (s.4.2).
 */
public final class FrameReader {

    private static final int MAX_OCTETS =
            FrameWriter.MAX_PAYLOAD_OCTETS + FrameWriter.CHECKSUM_OCTETS;
    private static final int FIRST_OCTETS = 512;

    /** Bytes of the line that belong to no frame yet. */
    private enum State {
        /** No flag has come yet: nothing to be said about these octets. */
        BEFORE_FIRST_FLAG,
        IN_FRAME,
        AFTER_ESCAPE,
        /** In a frame that is already too long. */
        SKIPPING
    }

    private State state = State.BEFORE_FIRST_FLAG;
    private byte[] held = new byte[FIRST_OCTETS];
    private int count;
    private FrameFaults faults = FrameFaults.NONE;

    /** Takes all of {@code octets}; see {@link #feed(byte[], int, int, Consumer)}. */
    public void feed(byte[] octets, Consumer<byte[]> payloads) {
        feed(octets, 0, octets.length, payloads);
    }

    /**
     * Takes the next octets of the line.
     *
     * @param octets holds them
     * @param start where they begin in {@code octets}
     * @param length how many they are
     * @param payloads is given the payload of each whole, undamaged frame that ends in them, in
     *     order
     */
    public void feed(byte[] octets, int start, int length, Consumer<byte[]> payloads) {
        Objects.checkFromIndexSize(start, length, octets.length);
        for (int i = start; i < start + length; i++) {
            take(octets[i] & 0xFF, payloads);
        }
    }

    /** What was discarded so far, by kind. */
    public FrameFaults faults() {
        return faults;
    }

    private void take(int octet, Consumer<byte[]> payloads) {
        if (octet == FrameWriter.FLAG) {
            State ended = state;
            state = State.IN_FRAME;
            int length = count;
            count = 0;
            end(ended, length, payloads);
        } else if (octet == FrameWriter.XON || octet == FrameWriter.XOFF) {
            return;
        } else if (state == State.AFTER_ESCAPE) {
            state = State.IN_FRAME;
            hold(octet ^ FrameWriter.ESCAPE_BIT);
        } else if (state == State.IN_FRAME) {
            if (octet == FrameWriter.ESCAPE) {
                state = State.AFTER_ESCAPE;
            } else {
                hold(octet);
            }
        }
    }

    private void hold(int octet) {
        if (count == MAX_OCTETS) {
            faults = faults.plusTooLong();
            state = State.SKIPPING;
            // A burst of noise must not keep its memory for the life of a quiet line.
            held = new byte[FIRST_OCTETS];
            return;
        }
        if (count == held.length) {
            held = Arrays.copyOf(held, Math.min(2 * count, MAX_OCTETS));
        }
        held[count++] = (byte) octet;
    }

    private void end(State ended, int length, Consumer<byte[]> payloads) {
        switch (ended) {
            case BEFORE_FIRST_FLAG, SKIPPING -> {
                // Nothing to judge, or judged already.
            }
            case AFTER_ESCAPE -> faults = faults.plusAborted();
            case IN_FRAME -> {
                int payloadLength = length - FrameWriter.CHECKSUM_OCTETS;
                if (length == 0) {
                    return;
                }
                if (payloadLength <= 0) {
                    faults = faults.plusTooShort();
                } else if (!checksumFits(payloadLength)) {
                    faults = faults.plusBadChecksum();
                } else {
                    payloads.accept(Arrays.copyOf(held, payloadLength));
                }
            }
        }
    }

    private boolean checksumFits(int payloadLength) {
        CRC32C checksum = new CRC32C();
        checksum.update(held, 0, payloadLength);
        long received = 0;
        for (int i = 0; i < FrameWriter.CHECKSUM_OCTETS; i++) {
            received |= (held[payloadLength + i] & 0xFFL) << (8 * i);
        }
        return checksum.getValue() == received;
    }
}
