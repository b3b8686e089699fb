package io.evenwarm.agent.journal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import io.evenwarm.agent.Snapshots;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.JournalRecord.Readings;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Quantity;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

final class ReadingsBodyTest {

    @Test
    void whateverIsWrittenIsReadBackBitForBit() throws IOException {
        for (long seed = 1; seed <= 500; seed++) {
            Readings readings = random(new Random(seed));
            Readings back =
                    ReadingsBody.decode(
                            ReadingsBody.encode(readings),
                            readings.sequence(),
                            readings.moment(),
                            CabinetLayout.of(readings));
            assertEquals(readings, back, "seed " + seed);
        }
    }

    @Test
    void aLayoutIsReadBackAsItWas() throws IOException {
        for (long seed = 1; seed <= 50; seed++) {
            CabinetLayout layout = CabinetLayout.of(random(new Random(seed)));
            assertEquals(
                    layout,
                    CabinetLayout.decode(layout.cabinet(), layout.encode()),
                    "seed " + seed);
        }
    }

    /** The format's own octets, so that a change to it is seen. Floats: IEEE 754, binary32. */
    @Test
    void theOctetsOfOneReadingStayWhatTheyAre() throws IOException {
        CabinetSnapshot snapshot = Snapshots.healthy("north", 3, true);
        Readings readings =
                new Readings(
                        0,
                        snapshot.moment(),
                        snapshot.cabinet(),
                        snapshot.probes().subList(0, 1),
                        snapshot.setPoint(),
                        snapshot.limits(),
                        snapshot.duty(),
                        0.6,
                        GuardState.ALLOWING);
        // Allowing, 31.5 as float, 4000, 6000; good temperature, 31.75 as float, 400 ms.
        assertEquals(
                "01" + "41fc0000" + "0fa0" + "1770" + "00" + "41fe0000" + "0190",
                HexFormat.of().formatHex(ReadingsBody.encode(readings)));
    }

    @Test
    void damagedOctetsEndInAReasonAndNotInAWrongNumber() throws IOException {
        Readings readings = random(new Random(7));
        byte[] octets = ReadingsBody.encode(readings);
        for (int length = 0; length < octets.length; length++) {
            byte[] cut = Arrays.copyOf(octets, length);
            assertThrows(
                    IOException.class,
                    () ->
                            ReadingsBody.decode(
                                    cut, 1, readings.moment(), CabinetLayout.of(readings)),
                    "cut to " + length + " octets");
        }
    }

    private static Readings random(Random random) {
        CabinetSnapshot base = Snapshots.healthy("north", 1 + random.nextInt(100_000), false);
        long at = base.moment().monotonicNanos();
        List<ProbeReading> probes = new ArrayList<>();
        for (int i = 0; i < 1 + random.nextInt(8); i++) {
            ProbePlace place = random.nextBoolean() ? ProbePlace.TUB : ProbePlace.of("shelf " + i);
            probes.add(new ProbeReading(new ProbeName("probe " + i), place, reading(random, at)));
        }
        return new Readings(
                random.nextInt(1000),
                base.moment(),
                base.cabinet(),
                probes,
                new Temperature(random.nextDouble() * 60 - 10),
                base.limits(),
                new Duty(random.nextInt(10_001) / 10_000.0),
                random.nextInt(10_001) / 10_000.0,
                any(random, GuardState.values()));
    }

    private static <T> T any(Random random, T[] values) {
        return List.of(values).get(random.nextInt(values.length));
    }

    private static Reading reading(Random random, long at) {
        long sampled = at - (random.nextInt(2_000_000) - 1000) * 1_000_000L;
        Reading.Doubt doubt = any(random, Reading.Doubt.values());
        Quantity value =
                random.nextInt(4) == 0
                        ? new RelativeHumidity(random.nextDouble() * 100)
                        : new Temperature(
                                random.nextBoolean()
                                        ? random.nextInt(2000) / 16.0
                                        : random.nextDouble() * 200 - 100);
        return switch (random.nextInt(3)) {
            case 0 -> new Reading.Good(value, sampled);
            case 1 -> new Reading.Uncertain(value, doubt, sampled);
            default -> new Reading.Bad(doubt, sampled);
        };
    }
}
