package io.evenwarm.agent.testing;

import io.evenwarm.agent.port.CabinetOutputs;
import io.evenwarm.agent.port.Output;
import io.evenwarm.agent.port.OutputException;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/**
 * Records every drive of a cabinet's lines, in order: two runs that decided the same have the same
 * {@link #sha256}. Stands between the loop and the lines:
 *
 * <pre>{@code
 * OutputTrace trace = new OutputTrace();
 * new CabinetLoop(plan, probes, trace.around(outputs), ...);
 * }</pre>
 *
 * <p>The buzzer is recorded too. One thread.
 */
public final class OutputTrace {

    private final MessageDigest digest;
    private long drives;
    private long heaterOnDrives;

    public OutputTrace() {
        try {
            digest = MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }

    /** The same lines, with every drive recorded. */
    public CabinetOutputs around(CabinetOutputs outputs) {
        return new CabinetOutputs(
                traced("heater", outputs.heater()),
                outputs.cutOffRelay().map(line -> traced("cut-off relay", line)),
                outputs.fan().map(line -> traced("fan", line)),
                outputs.buzzer().map(line -> traced("buzzer", line)));
    }

    private Output traced(String name, Output line) {
        byte[] on = entry(name, "1");
        byte[] off = entry(name, "0");
        byte[] closed = entry(name, "closed");
        boolean isHeater = name.equals("heater");
        return new Output() {
            @Override
            public void drive(boolean energised) throws OutputException {
                record(energised ? on : off);
                heaterOnDrives += energised && isHeater ? 1 : 0;
                line.drive(energised);
            }

            @Override
            public void close() {
                record(closed);
                line.close();
            }
        };
    }

    private static byte[] entry(String name, String level) {
        return (name + " " + level + "\n").getBytes(StandardCharsets.UTF_8);
    }

    private void record(byte[] entry) {
        drives++;
        digest.update(entry);
    }

    /** Of all drives so far, as 64 hexadecimal digits. Ends the recording. */
    public String sha256() {
        return HexFormat.of().formatHex(digest.digest());
    }

    /** How many drives were recorded. */
    public long drives() {
        return drives;
    }

    /** How many of them energised the heater. */
    public long heaterOnDrives() {
        return heaterOnDrives;
    }
}
