package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.port.CabinetOutputs;
import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.OutputException;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/**
 * Sits between a loop and its lines and digests their levels, one byte a tick: bit 0 heater, bit 1
 * cut-off relay, bit 2 fan, bit 3 buzzer; a line that is not fitted counts as off.
 */
final class OutputTrace {

    private static final int HEATER = 1;
    private static final int CUT_OFF_RELAY = 2;
    private static final int FAN = 4;
    private static final int BUZZER = 8;
    private static final int CHUNK_BYTES = 4096;

    private final MessageDigest digest;
    private final byte[] chunk = new byte[CHUNK_BYTES];
    private int filled;
    private int levels;
    private int levelsBefore;
    private long heaterOperations;

    OutputTrace() {
        try {
            digest = MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new AssertionError("every Java platform has SHA-256", e);
        }
    }

    CabinetOutputs watch(CabinetOutputs outputs) {
        return new CabinetOutputs(
                new Watched(outputs.heater(), HEATER),
                outputs.cutOffRelay().map(output -> new Watched(output, CUT_OFF_RELAY)),
                outputs.fan().map(output -> new Watched(output, FAN)),
                outputs.buzzer().map(output -> new Watched(output, BUZZER)));
    }

    /** A heater that is on now is not switched on by the first tick. */
    void begin() {
        levelsBefore = levels;
    }

    /** Takes the levels of this tick. */
    void tick() {
        if ((levels & ~levelsBefore & HEATER) != 0) {
            heaterOperations++;
        }
        levelsBefore = levels;
        chunk[filled++] = (byte) levels;
        if (filled == CHUNK_BYTES) {
            digest.update(chunk);
            filled = 0;
        }
    }

    /** How often the heater's line went on. */
    long heaterOperations() {
        return heaterOperations;
    }

    /** Of all ticks, in lower-case hex. Ends the trace. */
    String sha256() {
        digest.update(chunk, 0, filled);
        filled = 0;
        return HexFormat.of().formatHex(digest.digest());
    }

    private final class Watched implements Output {

        private final Output output;
        private final int bit;

        Watched(Output output, int bit) {
            this.output = output;
            this.bit = bit;
        }

        @Override
        public void drive(boolean energised) throws OutputException {
            output.drive(energised);
            levels = energised ? levels | bit : levels & ~bit;
        }

        @Override
        public void close() {
            // A line outlives the process that lets go of it.
            try {
                drive(false);
            } catch (OutputException e) {
                throw new AssertionError("a simulated line can be driven", e);
            }
        }
    }
}
