package io.evenwarm.agent.driver.serial;

import io.evenwarm.agent.port.Sample;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/**
 * One frame of a probe board, understood. Octet by octet in {@code hardware-notes/probe-board.md}.
 *
 * @param sequence goes up by one with each frame, modulo 256
 * @param values hundredths of °C or percent, or one of the words below, by channel and unit
 */
record BoardReport(int sequence, Map<Key, Integer> values) {

    /** In the place of a value: no sensor answers at this channel. */
    static final int MISSING = -32_768;

    /** In the place of a value: the sensor's own checksum does not match. */
    static final int WRONG_CHECKSUM = -32_767;

    /** In the place of a value: the board could not read the sensor for another reason. */
    static final int FAILED = -32_766;

    static final int KIND = 'P';
    static final int VERSION = 1;

    private static final int HEAD_OCTETS = 4;
    private static final int ENTRY_OCTETS = 4;
    private static final int TEMPERATURE = 1;
    private static final int HUMIDITY = 2;

    /** Which value of which probe. */
    record Key(int channel, Sample.Unit unit) {}

    BoardReport {
        values = Map.copyOf(values);
    }

    /**
     * Understands a payload.
     *
     * @throws NotUnderstoodException when it is no report of this version
     */
    static BoardReport parse(byte[] payload) throws NotUnderstoodException {
        if (payload.length < HEAD_OCTETS || payload[0] != KIND) {
            throw new NotUnderstoodException("is no probe board's report");
        }
        if (payload[1] != VERSION) {
            throw new NotUnderstoodException(
                    "is of version " + (payload[1] & 0xFF) + " where 1 is understood");
        }
        int count = payload[3] & 0xFF;
        if (payload.length != HEAD_OCTETS + count * ENTRY_OCTETS) {
            throw new NotUnderstoodException(
                    "has " + payload.length + " octets for " + count + " values");
        }
        Map<Key, Integer> values = new HashMap<>();
        for (int i = 0; i < count; i++) {
            int at = HEAD_OCTETS + i * ENTRY_OCTETS;
            int value = (payload[at + 2] & 0xFF) | payload[at + 3] << Byte.SIZE;
            // A quantity of a later version is no reason to lose those that are known.
            unit(payload[at + 1])
                    .ifPresent(unit -> values.put(new Key(payload[at] & 0xFF, unit), value));
        }
        return new BoardReport(payload[2] & 0xFF, values);
    }

    private static Optional<Sample.Unit> unit(byte what) {
        return switch (what) {
            case TEMPERATURE -> Optional.of(Sample.Unit.CELSIUS);
            case HUMIDITY -> Optional.of(Sample.Unit.PERCENT_RELATIVE_HUMIDITY);
            default -> Optional.empty();
        };
    }

    /** A payload that is no report. */
    static final class NotUnderstoodException extends Exception {
        private static final long serialVersionUID = 1L;

        NotUnderstoodException(String message) {
            super(message);
        }
    }
}
