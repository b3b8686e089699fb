package io.evenwarm.agent.driver.pi4j;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

final class ShtChecksumTest {

    /** BE EF: SHT3x-DIS datasheet v5, table 20; 123456789: CRC-8/NRSC-5's check value, computed. */
    @Test
    void agreesWithTheDatasheetsExample() {
        assertEquals(0x92, ShtChecksum.of(new byte[] {(byte) 0xBE, (byte) 0xEF}, 0, 2));
        byte[] digits = "123456789".getBytes(StandardCharsets.US_ASCII);
        assertEquals(0xF7, ShtChecksum.of(digits, 0, digits.length));
    }

    @Test
    void everySingleBitFlipIsNoticed() {
        byte[] word = {0x66, 0x66};
        int sound = ShtChecksum.of(word, 0, 2);
        for (int bit = 0; bit < 16; bit++) {
            byte[] damaged = word.clone();
            damaged[bit / 8] ^= (byte) (1 << (bit % 8));
            assertNotEquals(sound, ShtChecksum.of(damaged, 0, 2), "bit " + bit);
        }
    }
}
