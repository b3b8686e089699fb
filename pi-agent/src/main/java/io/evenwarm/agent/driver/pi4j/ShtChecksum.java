package io.evenwarm.agent.driver.pi4j;

/**
 * The checksum that an SHT sends after each word: CRC-8 with x⁸+x⁵+x⁴+1, most significant bit
 * first, starting at FF; BE EF gives 92 (SHT3x-DIS datasheet v5, 4.12 and table 20).
 */
final class ShtChecksum {

    private static final int POLYNOMIAL = 0x31;
    private static final int START = 0xFF;

    private ShtChecksum() {}

    /** Over {@code length} octets from {@code from}. */
    static int of(byte[] octets, int from, int length) {
        int crc = START;
        for (int i = from; i < from + length; i++) {
            crc ^= octets[i] & 0xFF;
            for (int bit = 0; bit < Byte.SIZE; bit++) {
                crc = (crc & 0x80) == 0 ? crc << 1 : (crc << 1) ^ POLYNOMIAL;
            }
            crc &= 0xFF;
        }
        return crc;
    }
}
