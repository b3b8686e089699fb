/*
 * A probe board that is none: writes reports to a serial line, or to standard output with "-".
 *
 *   pretend_board LINE PERIOD_MILLISECONDS REPORTS CHANNEL:WHAT:VALUE ...
 *
 * WHAT is t or h; VALUE is in hundredths, or "missing", "checksum", "failed". REPORTS 0: without end.
 * A word "garbage" among the values puts noise before each report; "frozen" sends the same sequence
 * number for ever.
 */
#define _POSIX_C_SOURCE 200809L

#include "probe_board.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

static int write_all(int line, const uint8_t *octets, size_t length)
{
    while (length > 0) {
        ssize_t count = write(line, octets, length);
        if (count <= 0) {
            return 0;
        }
        octets += count;
        length -= (size_t)count;
    }
    return 1;
}

static int parse(const char *text, struct probe_board_value *value)
{
    unsigned channel;
    char what;
    char number[16];

    if (sscanf(text, "%u:%c:%15s", &channel, &what, number) != 3 || channel > 63 ||
        (what != 't' && what != 'h')) {
        return 0;
    }
    value->channel = (uint8_t)channel;
    value->what = what == 't' ? PROBE_BOARD_TEMPERATURE : PROBE_BOARD_HUMIDITY;
    if (strcmp(number, "missing") == 0) {
        value->value = PROBE_BOARD_MISSING;
    } else if (strcmp(number, "checksum") == 0) {
        value->value = PROBE_BOARD_WRONG_CHECKSUM;
    } else if (strcmp(number, "failed") == 0) {
        value->value = PROBE_BOARD_FAILED;
    } else {
        value->value = (int16_t)strtol(number, NULL, 10);
    }
    return 1;
}

int main(int argc, char **argv)
{
    static const uint8_t noise[] = {0x00, 0x7E, 0x7D, 0x7E, 0x50, 0x01, 0xFF, 0x7E, 0x13, 0x41};
    struct probe_board_value values[PROBE_BOARD_MAX_VALUES];
    uint8_t frame[PROBE_BOARD_MAX_FRAME];
    size_t count = 0;
    int garbage = 0;
    int frozen = 0;
    int i;
    int line;
    long period;
    long reports;
    long sent;

    if (argc < 5) {
        fprintf(stderr, "pretend_board LINE PERIOD_MILLISECONDS REPORTS CHANNEL:WHAT:VALUE ...\n");
        return 2;
    }
    period = strtol(argv[2], NULL, 10);
    reports = strtol(argv[3], NULL, 10);
    for (i = 4; i < argc; i++) {
        if (strcmp(argv[i], "garbage") == 0) {
            garbage = 1;
        } else if (strcmp(argv[i], "frozen") == 0) {
            frozen = 1;
        } else if (count == PROBE_BOARD_MAX_VALUES || !parse(argv[i], &values[count++])) {
            fprintf(stderr, "pretend_board: not CHANNEL:WHAT:VALUE: %s\n", argv[i]);
            return 2;
        }
    }
    line = strcmp(argv[1], "-") == 0 ? 1 : open(argv[1], O_WRONLY | O_NOCTTY);
    if (line < 0) {
        perror(argv[1]);
        return 1;
    }
    for (sent = 0; reports == 0 || sent < reports; sent++) {
        struct timespec pause;
        size_t length = probe_board_frame(frame, frozen ? 7 : (uint8_t)sent, values, count);
        if ((garbage && !write_all(line, noise, sizeof noise)) || !write_all(line, frame, length)) {
            return 1;
        }
        pause.tv_sec = period / 1000;
        pause.tv_nsec = (period % 1000) * 1000000L;
        nanosleep(&pause, NULL);
    }
    return 0;
}
