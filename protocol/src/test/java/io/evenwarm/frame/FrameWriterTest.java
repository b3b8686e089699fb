package io.evenwarm.frame;

import static java.nio.charset.StandardCharsets.US_ASCII;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.HexFormat;
import java.util.zip.CRC32C;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Frames against published values. [1] RFC 1662, PPP in HDLC-like Framing. [2] RFC 3720, iSCSI,
 * appendix B.4, "CRC Examples".
 */
final class FrameWriterTest {

    private static final HexFormat HEX = HexFormat.of();

    /**
     * [2] B.4 prints the checksums in the order of the wire: least significant octet first. Octets
     * 91 and 11 of two of them are then stuffed.
     */
    @ParameterizedTest(name = "RFC 3720 B.4: CRC-32C of {0} is {1} on the wire")
    @CsvSource({
        "32 octets of 00, aa36 7db1 8a",
        "32 octets of FF, 43aba862",
        "00 to 1F, 4e79dd46",
        "1F to 00, 5cdb3f 7d31"
    })
    void trailerIsTheCrc32cOfRfc3720(String octets, String checksum) {
        byte[] payload = new byte[32];
        for (int i = 0; i < payload.length; i++) {
            payload[i] =
                    (byte)
                            switch (octets) {
                                case "32 octets of 00" -> 0x00;
                                case "32 octets of FF" -> 0xFF;
                                case "00 to 1F" -> i;
                                default -> 31 - i;
                            };
        }
        String line = HEX.formatHex(FrameWriter.frame(payload));
        String end = checksum.replace(" ", "") + "7e";
        assertEquals("7e", line.substring(0, 2));
        assertEquals(end, line.substring(line.length() - end.length()));
    }

    /** CRC-32C check value E3069283 of "123456789"; LSO first, as [1] s.3.1 sends its FCS. */
    @Test
    void checkStringBecomesTheKnownFrame() {
        byte[] frame = FrameWriter.frame("123456789".getBytes(US_ASCII));
        assertEquals("7e313233343536373839839206e37e", HEX.formatHex(frame));
    }

    /** The CRC-32C of nothing is 00000000 (CRC-32C check value, computed from its definition). */
    @Test
    void checksumOfNothingIsZero() {
        assertEquals(0, new CRC32C().getValue());
    }

    /**
     * [1] s.4.2: flag and escape are always stuffed, XON and XOFF as this link chooses, and their
     * forms with the eighth bit set. The checksums were computed apart from this program by the
     * polynomial's definition (0x1EDC6F41, reflected 0x82F63B78).
     */
    @ParameterizedTest(name = "RFC 1662 s.4.2: {0} becomes {1}")
    @CsvSource({
        "7e, 7e 7d5e 7bb89d8f 7e",
        "7d, 7e 7d5d 8f4bcd9c 7e",
        "7e7d, 7e 7d5e7d5d 01295374 7e",
        "1113919303, 7e 7d317d337db17db303 ec8872c4 7e",
        "00, 7e 00 51537d5d52 7e",
        "000148, 7e 000148 7d5e7d5e64b8 7e"
    })
    void specialOctetsAreStuffedInPayloadAndChecksum(String payload, String frame) {
        assertEquals(
                frame.replace(" ", ""), HEX.formatHex(FrameWriter.frame(HEX.parseHex(payload))));
    }

    /** The residue of payload and checksum, B798B438 before the final xor (CRC-32C, computed). */
    @Test
    void payloadAndTrailerLeaveTheKnownResidue() {
        byte[] frame = FrameWriter.frame("123456789".getBytes(US_ASCII));
        CRC32C checksum = new CRC32C();
        checksum.update(frame, 1, frame.length - 2);
        assertEquals(0xB798B438L, checksum.getValue() ^ 0xFFFF_FFFFL);
    }

    @Test
    void payloadsWithoutRoomInAFrameAreRefused() {
        assertThrows(IllegalArgumentException.class, () -> FrameWriter.frame(new byte[0]));
        assertThrows(
                IllegalArgumentException.class,
                () -> FrameWriter.frame(new byte[FrameWriter.MAX_PAYLOAD_OCTETS + 1]));
    }
}
