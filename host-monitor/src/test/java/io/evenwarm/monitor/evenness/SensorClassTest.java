package io.evenwarm.monitor.evenness;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.ProbeName;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

final class SensorClassTest {

    private static final ProbeName TOP = new ProbeName("top");

    private static KnownSensor known(double minute, String sensor) {
        return new KnownSensor(InventedCabinet.KEY, TOP, InventedCabinet.at(minute), sensor);
    }

    /** BST-BME280-DS002 and 19-7487. */
    @Test
    void whatAnAgentNamesHasTheClassOfItsDatasheet() {
        assertEquals(SensorClass.DS18B20, SensorClass.of(Optional.of("ds18b20")));
        assertEquals(0.5, SensorClass.DS18B20.thermometer().classHalfWidth());
        assertEquals(0.0625, SensorClass.DS18B20.thermometer().resolution());
        assertEquals(1, SensorClass.of(Optional.of("bme280")).thermometer().classHalfWidth());
        assertEquals(3, SensorClass.of(Optional.of("bme280")).hygrometer().classHalfWidth());
    }

    @Test
    void whatNobodyKnowsIsTakenForTheWorstOfAll() {
        for (Optional<String> name :
                List.of(
                        Optional.<String>empty(),
                        Optional.of(""),
                        Optional.of("abc9"),
                        Optional.of("unknown sensor"))) {
            assertEquals(SensorClass.UNKNOWN, SensorClass.of(name));
        }
        ProbeQuality unknown = SensorClass.UNKNOWN.thermometer();
        for (SensorClass known : SensorClass.values()) {
            assertTrue(unknown.classHalfWidth() >= known.thermometer().classHalfWidth());
            assertTrue(unknown.resolution() >= known.thermometer().resolution());
            assertTrue(
                    SensorClass.UNKNOWN.hygrometer().classHalfWidth()
                            >= known.hygrometer().classHalfWidth());
        }
    }

    @Test
    void aReadingIsOfTheSensorThatItsAgentNamedLastBefore() {
        ProbeRecord record =
                new ProbeRecord(
                        List.of(),
                        List.of(known(60, "ds18b20"), known(120, "bme280"), known(180, "")));
        assertEquals(SensorClass.DS18B20, sensor(record, 90));
        assertEquals(SensorClass.BME280, sensor(record, 120));
        assertEquals(SensorClass.UNKNOWN, sensor(record, 200));
        assertEquals(SensorClass.DS18B20, sensor(record, 0), "said first, after that reading");
        assertEquals(SensorClass.UNKNOWN, sensor(ProbeRecord.EMPTY, 0));
        assertTrue(
                record.trust(InventedCabinet.KEY, TOP, InventedCabinet.at(200))
                        .words(InventedCabinet.WORDING)
                        .startsWith("top: never compared (unknown sensor, ±2.00 K as bought)"));
    }

    private static SensorClass sensor(ProbeRecord record, double minute) {
        return record.sensor(InventedCabinet.KEY, TOP, InventedCabinet.at(minute));
    }
}
