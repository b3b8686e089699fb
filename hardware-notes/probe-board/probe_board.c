#include "probe_board.h"

#define FLAG 0x7E
#define ESCAPE 0x7D
#define ESCAPE_BIT 0x20
#define XON 0x11
#define XOFF 0x13

/* CRC-32C (RFC 3720 B.4), bit by bit: a table would cost 1 KiB that a small chip lacks. */
static uint32_t crc32c(uint32_t crc, uint8_t octet)
{
    int bit;
    crc ^= octet;
    for (bit = 0; bit < 8; bit++) {
        crc = (crc & 1u) ? (crc >> 1) ^ 0x82F63B78u : crc >> 1;
    }
    return crc;
}

/* Octet stuffing (RFC 1662 s.4.2); XON and XOFF too, with and without their eighth bit. */
static size_t put(uint8_t *frame, size_t at, uint8_t octet)
{
    uint8_t without_eighth_bit = (uint8_t)(octet & 0x7F);
    if (octet == FLAG || octet == ESCAPE || without_eighth_bit == XON ||
        without_eighth_bit == XOFF) {
        frame[at++] = ESCAPE;
        octet ^= ESCAPE_BIT;
    }
    frame[at++] = octet;
    return at;
}

size_t probe_board_frame(uint8_t *frame, uint8_t sequence, const struct probe_board_value *values,
                         size_t count)
{
    uint8_t payload[4 + 4 * PROBE_BOARD_MAX_VALUES];
    uint32_t crc = 0xFFFFFFFFu;
    size_t length = 4;
    size_t at = 0;
    size_t i;

    if (count > PROBE_BOARD_MAX_VALUES) {
        return 0;
    }
    payload[0] = 'P';
    payload[1] = 1;
    payload[2] = sequence;
    payload[3] = (uint8_t)count;
    for (i = 0; i < count; i++) {
        uint16_t value = (uint16_t)values[i].value;
        payload[length++] = values[i].channel;
        payload[length++] = values[i].what;
        payload[length++] = (uint8_t)(value & 0xFF);
        payload[length++] = (uint8_t)(value >> 8);
    }
    frame[at++] = FLAG;
    for (i = 0; i < length; i++) {
        crc = crc32c(crc, payload[i]);
        at = put(frame, at, payload[i]);
    }
    crc ^= 0xFFFFFFFFu;
    for (i = 0; i < 4; i++) {
        at = put(frame, at, (uint8_t)(crc >> (8 * i)));
    }
    frame[at++] = FLAG;
    return at;
}
