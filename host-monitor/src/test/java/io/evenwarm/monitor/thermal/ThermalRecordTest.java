package io.evenwarm.monitor.thermal;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.thermal.ThermalRecord.Channel;
import org.junit.jupiter.api.Test;

final class ThermalRecordTest {

    private static final long BEGIN = 60_000L * 1000;

    @Test
    void aCellIsTheMeanOfWhatFellIntoIt() {
        ThermalRecord.Builder builder = new ThermalRecord.Builder(BEGIN);
        builder.add(Channel.AIR, BEGIN + 59_999, 32);
        builder.add(Channel.AIR, BEGIN, 30);
        builder.add(Channel.AIR, BEGIN + 120_000, 29);
        builder.add(Channel.AIR, BEGIN - 1, 99);
        builder.add(Channel.AIR, BEGIN + 1, Double.NaN);
        ThermalRecord record = builder.build();
        assertEquals(3, record.size());
        assertEquals(31, record.air(0), 0);
        assertTrue(Double.isNaN(record.air(1)));
        assertEquals(29, record.air(2), 0);
        assertTrue(Double.isNaN(record.room(2)));
    }

    @Test
    void partsKeepTimesAndLoadChanges() {
        ThermalRecord.Builder builder = new ThermalRecord.Builder(BEGIN);
        for (int minute = 0; minute < 10; minute++) {
            builder.add(Channel.DUTY, BEGIN + minute * 60_000L, minute / 10.0);
        }
        builder.loadChanged(BEGIN + 7 * 60_000L);
        ThermalRecord last = builder.build().last(4);
        assertEquals(4, last.size());
        assertEquals(BEGIN + 6 * 60_000L, last.millis(0));
        assertEquals(0.6, last.duty(0), 1e-12);
        assertArrayEquals(new int[] {1}, last.loadChanges());
        assertEquals(1, last.cell(BEGIN + 7 * 60_000L + 1));
        assertArrayEquals(new int[] {}, builder.build().first(7).loadChanges());
    }

    @Test
    void aReadingFromAnotherCenturyIsRefusedAndNotAllocatedFor() {
        ThermalRecord.Builder builder = new ThermalRecord.Builder(BEGIN);
        IllegalArgumentException refused =
                assertThrows(
                        IllegalArgumentException.class,
                        () -> builder.add(Channel.AIR, Long.MAX_VALUE / 2, 30));
        assertTrue(refused.toString().contains("longer"), refused.toString());
    }

    @Test
    void nothingIsFittedToLessThanTwoDays() {
        ThermalRecord.Builder builder = new ThermalRecord.Builder(BEGIN);
        for (int minute = 0; minute < 1440; minute++) {
            long at = BEGIN + minute * 60_000L;
            builder.add(Channel.AIR, at, 30);
            builder.add(Channel.ROOM, at, 20);
            builder.add(Channel.DUTY, at, 0.3);
        }
        assertTrue(ThermalFitter.fit(builder.build(), ThermalFacts.NONE).isEmpty());
    }
}
