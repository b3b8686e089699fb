package io.evenwarm.frame;

import java.util.zip.CRC32C;

/**
 * Puts a payload into a frame: a flag, the stuffed payload, its stuffed CRC-32C, a flag.
 *
 * <pre>
 * payload 00  ->  7E     00        51 53 7D 5D 52               7E
 *                 flag   payload   CRC-32C 527D5351, stuffed    flag
 * </pre>
 *
 * <p>Octet stuffing after [1] s.4.2. XON and XOFF, also with their eighth bit set, are stuffed too,
 * so that software flow control anywhere on a serial line takes nothing out of a frame. The
 * checksum is CRC-32C as [2] B.4 has it, taken before stuffing.
 *
 * <p>[1] RFC 1662, PPP in HDLC-like Framing. [2] RFC 3720, iSCSI.
 */
public final class FrameWriter {

    /** The longest payload, in octets. */
    public static final int MAX_PAYLOAD_OCTETS = 65_536;

    static final int FLAG = 0x7E;
    static final int ESCAPE = 0x7D;
    static final int ESCAPE_BIT = 0x20;
    static final int XON = 0x11;
    static final int XOFF = 0x13;
    static final int CHECKSUM_OCTETS = 4;
    private static final int EIGHTH_BIT = 0x80;

    private FrameWriter() {}

    /**
     * The frame for {@code payload}, ready for the line.
     *
     * @param payload 1 to {@value #MAX_PAYLOAD_OCTETS} octets
     * @throws IllegalArgumentException when the payload's length is not allowed
     */
    public static byte[] frame(byte[] payload) {
        if (payload.length == 0 || payload.length > MAX_PAYLOAD_OCTETS) {
            throw new IllegalArgumentException(
                    "a payload has 1 to "
                            + MAX_PAYLOAD_OCTETS
                            + " octets but this one has "
                            + payload.length);
        }
        CRC32C checksum = new CRC32C();
        checksum.update(payload, 0, payload.length);
        byte[] trailer = new byte[CHECKSUM_OCTETS];
        for (int i = 0; i < CHECKSUM_OCTETS; i++) {
            trailer[i] = (byte) (checksum.getValue() >>> (8 * i));
        }
        byte[] frame = new byte[2 + stuffedLength(payload) + stuffedLength(trailer)];
        frame[0] = (byte) FLAG;
        int end = stuff(payload, frame, 1);
        end = stuff(trailer, frame, end);
        frame[end] = (byte) FLAG;
        return frame;
    }

    private static int stuffedLength(byte[] octets) {
        int length = octets.length;
        for (byte octet : octets) {
            if (mustBeStuffed(octet & 0xFF)) {
                length++;
            }
        }
        return length;
    }

    private static int stuff(byte[] octets, byte[] into, int start) {
        int at = start;
        for (byte octet : octets) {
            if (mustBeStuffed(octet & 0xFF)) {
                into[at++] = (byte) ESCAPE;
                into[at++] = (byte) (octet ^ ESCAPE_BIT);
            } else {
                into[at++] = octet;
            }
        }
        return at;
    }

    private static boolean mustBeStuffed(int octet) {
        int withoutEighthBit = octet & ~EIGHTH_BIT;
        return octet == FLAG
                || octet == ESCAPE
                || withoutEighthBit == XON
                || withoutEighthBit == XOFF;
    }
}
