package io.evenwarm.agent.driver.sysfs;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;

import io.evenwarm.agent.driver.BusReader;
import io.evenwarm.agent.port.Sample;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * {@code therm_bulk_read} in a bus master's folder: write "trigger"; reads −1 converting, 1 done
 * and not fetched, 0 none pending (Linux kernel, Documentation/w1/slaves/w1_therm.rst).
 */
final class OneWireBulkTest {

    private static final long SECOND = TimeUnit.SECONDS.toNanos(1);
    private static final String BUS = "w1_bus_master1";

    @TempDir Path folder;
    private Path bulk = Path.of("");
    private int polls;

    @BeforeEach
    void makeBus() throws IOException {
        bulk = Files.createDirectories(folder.resolve(BUS)).resolve("therm_bulk_read");
    }

    /** A kernel whose conversion is over at the n-th look. */
    private OneWireBulk overAfter(int looks) {
        return new OneWireBulk(
                folder,
                BUS,
                millis -> {
                    polls++;
                    try {
                        if (polls == 1) {
                            assertEquals("trigger\n", Files.readString(bulk));
                        }
                        Files.writeString(bulk, polls < looks ? "-1\n" : "1\n");
                    } catch (IOException e) {
                        throw new IllegalStateException(e);
                    }
                });
    }

    @Test
    void oneConversionServesAllAndItsTimeIsTheirs() throws IOException {
        Files.writeString(bulk, "0\n");
        assertEquals(OptionalLong.of(7 * SECOND), overAfter(15).begin(7 * SECOND));
        assertEquals(15, polls);
    }

    @Test
    void aKernelWithoutTheFileLeavesEachProbeToItself() {
        assertEquals(OptionalLong.empty(), overAfter(1).begin(7 * SECOND));
        assertEquals(0, polls);
    }

    @Test
    void aConversionThatNeverEndsIsGivenUpAfterTwoSeconds() throws IOException {
        Files.writeString(bulk, "0\n");
        assertEquals(OptionalLong.empty(), overAfter(Integer.MAX_VALUE).begin(7 * SECOND));
        assertEquals(36, polls);
    }

    @Test
    void aFileThatCannotBeWrittenLeavesEachProbeToItself() throws IOException {
        Files.createDirectory(bulk);
        assertEquals(OptionalLong.empty(), overAfter(1).begin(7 * SECOND));
        assertEquals(0, polls);
    }

    /**
     * The simulated kernel takes 0.75 s for a conversion of all, and 0.75 s for each probe's own.
     */
    @Test
    void aRoundOverNineProbesTakesOneConversionAndNotNine() throws IOException {
        AtomicLong now = new AtomicLong(10 * SECOND);
        long conversion = 3 * SECOND / 4;
        List<BusReader.Sensor> sensors = new ArrayList<>();
        long[] convertedAt = {Long.MIN_VALUE};
        for (int i = 0; i < 9; i++) {
            String address = "28-00000000000" + i;
            Path device = Files.createDirectories(folder.resolve(address));
            Files.writeString(device.resolve("w1_slave"), OneWireText.good(30 + i));
            OneWireThermometer thermometer = new OneWireThermometer(folder, address);
            sensors.add(
                    new BusReader.Sensor(
                            address,
                            at -> {
                                if (convertedAt[0] == Long.MIN_VALUE) {
                                    now.addAndGet(conversion);
                                }
                                return thermometer.read(at);
                            }));
        }
        assertEquals(9 * conversion, round(sensors, at -> OptionalLong.empty(), now));

        Files.writeString(bulk, "0\n");
        OneWireBulk start =
                new OneWireBulk(
                        folder,
                        BUS,
                        millis -> {
                            now.addAndGet(TimeUnit.MILLISECONDS.toNanos(millis));
                            polls++;
                            try {
                                Files.writeString(bulk, polls < 15 ? "-1\n" : "1\n");
                            } catch (IOException e) {
                                throw new IllegalStateException(e);
                            }
                            convertedAt[0] = now.get();
                        });
        assertEquals(conversion, round(sensors, start, now));
    }

    private static long round(
            List<BusReader.Sensor> sensors, BusReader.RoundStart start, AtomicLong now) {
        long began = now.get();
        try (BusReader reader = new BusReader(BUS, sensors, start, SECOND, now::get)) {
            for (int i = 0; i < sensors.size(); i++) {
                reader.step(now.get());
            }
            for (int i = 0; i < sensors.size(); i++) {
                Sample.Measured sample =
                        assertInstanceOf(Sample.Measured.class, reader.probe(i).newest());
                assertEquals(30 + i, sample.value());
            }
            assertEquals(began, reader.probe(0).newest().atNanos());
        }
        return now.get() - began;
    }
}
