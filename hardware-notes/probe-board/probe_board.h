/* What a probe board sends to Evenwarm's agent: see ../probe-board.md. C99, no heap, no library. */
#ifndef PROBE_BOARD_H
#define PROBE_BOARD_H

#include <stddef.h>
#include <stdint.h>

/* Values in one report, at most. */
#define PROBE_BOARD_MAX_VALUES 32

/* A frame of that many values, every octet of it stuffed. */
#define PROBE_BOARD_MAX_FRAME (2 + 2 * (4 + 4 * PROBE_BOARD_MAX_VALUES + 4))

/* What a value is. */
#define PROBE_BOARD_TEMPERATURE 1 /* hundredths of a degree Celsius */
#define PROBE_BOARD_HUMIDITY 2    /* hundredths of a percent, relative */

/* In the place of a value. */
#define PROBE_BOARD_MISSING INT16_MIN              /* no sensor answers */
#define PROBE_BOARD_WRONG_CHECKSUM (INT16_MIN + 1) /* the sensor's own checksum is wrong */
#define PROBE_BOARD_FAILED (INT16_MIN + 2)         /* it can't be read for another reason */

struct probe_board_value {
    uint8_t channel; /* 0 to 63: which probe */
    uint8_t what;    /* PROBE_BOARD_TEMPERATURE or PROBE_BOARD_HUMIDITY */
    int16_t value;
};

/*
 * Writes one frame into `frame`, which holds PROBE_BOARD_MAX_FRAME octets, and returns its length;
 * 0 when there are too many values. `sequence` goes up by one with each report.
 */
size_t probe_board_frame(uint8_t *frame, uint8_t sequence, const struct probe_board_value *values,
                         size_t count);

#endif
