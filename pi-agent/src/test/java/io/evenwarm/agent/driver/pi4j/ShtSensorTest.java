package io.evenwarm.agent.driver.pi4j;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.driver.BusReader;
import io.evenwarm.agent.driver.SampleSource;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.agent.port.Sample.Unit;
import io.evenwarm.message.Reading.Doubt;
import java.io.IOException;
import java.nio.file.NoSuchFileException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;

final class ShtSensorTest {

    private static final long SECOND = TimeUnit.SECONDS.toNanos(1);
    private static final String MEASURE = "write 2400";
    private static final String RESET = "write 30a2";

    private final FakeBus bus = new FakeBus();
    private final ShtSensor sensor = sensor("sht3x@1-0044/temp");
    private final SampleSource temperature = sensor.source(Unit.CELSIUS);
    private final SampleSource humidity = sensor.source(Unit.PERCENT_RELATIVE_HUMIDITY);

    private ShtSensor sensor(String address) {
        return new ShtSensor(ShtAddress.parse(address).orElseThrow().device(), bus, nanos -> {});
    }

    /** A bus with one sensor, at the edge where Linux begins. Does what it is told, in order. */
    private static final class FakeBus implements I2cDevice.Opener {
        private final Deque<Object> answers = new ArrayDeque<>();
        private final List<String> traffic = new ArrayList<>();
        private boolean acknowledges = true;

        @Override
        public I2cDevice open(int number, int address) throws IOException {
            traffic.add("open");
            return new I2cDevice() {
                @Override
                public void write(byte[] octets) throws IOException {
                    traffic.add("write " + HexFormat.of().formatHex(octets));
                    if (!acknowledges) {
                        throw new IOException("Remote I/O error");
                    }
                }

                @Override
                public int read(byte[] into) throws IOException {
                    traffic.add("read");
                    Object answer = answers.isEmpty() ? "Connection timed out" : answers.remove();
                    if (answer instanceof byte[] octets) {
                        System.arraycopy(octets, 0, into, 0, octets.length);
                        return octets.length;
                    }
                    throw new IOException(String.valueOf(answer));
                }

                @Override
                public void close() {
                    traffic.add("close");
                }
            };
        }

        void answer(int rawTemperature, int rawHumidity) {
            answers.add(result(rawTemperature, rawHumidity));
        }
    }

    static byte[] result(int rawTemperature, int rawHumidity) {
        byte[] octets = {
            (byte) (rawTemperature >> 8),
            (byte) rawTemperature,
            0,
            (byte) (rawHumidity >> 8),
            (byte) rawHumidity,
            0
        };
        octets[2] = (byte) ShtChecksum.of(octets, 0, 2);
        octets[5] = (byte) ShtChecksum.of(octets, 3, 2);
        return octets;
    }

    private static double value(Sample sample) {
        return assertInstanceOf(Sample.Measured.class, sample, sample::toString).value();
    }

    private static Sample.Failed failed(Sample sample) {
        return assertInstanceOf(Sample.Failed.class, sample);
    }

    /** SHT3x-DIS datasheet v5, 4.13: T = −45 + 175 S/65535, RH = 100 S/65535; values computed. */
    @Test
    void convertsAsTheSht3xDatasheetSays() {
        int[] raw = {0x0000, 0x6666, 0x8000, 0xFFFF, 0xBEEF};
        double[] celsius = {-45, 25, 42.5013, 130, 85.5230};
        double[] percent = {0, 40, 50.00076, 100, 74.5846};
        for (int i = 0; i < raw.length; i++) {
            bus.answer(raw[i], raw[i]);
            assertEquals(celsius[i], value(temperature.read(i)), 1e-4);
            assertEquals(percent[i], value(humidity.read(i)), 1e-4);
        }
    }

    /** RH = −6 + 125 S/65535, cut at 0 and 100: from memory of the SHT4x datasheet. */
    @Test
    void convertsAsTheSht4xDatasheetSays() {
        SampleSource four = sensor("sht4x@1-0044/temp").source(Unit.PERCENT_RELATIVE_HUMIDITY);
        int[] raw = {0x0000, 0x6666, 0x8000, 0xFFFF};
        double[] percent = {0, 44, 56.50095, 100};
        for (int i = 0; i < raw.length; i++) {
            bus.answer(raw[i], raw[i]);
            assertEquals(percent[i], value(four.read(i)), 1e-4);
        }
        assertTrue(bus.traffic.contains("write fd"), bus.traffic::toString);
        assertTrue(bus.traffic.contains("write 94"), bus.traffic::toString);
    }

    @Test
    void bothValuesComeFromOneMeasurementWithItsTime() {
        bus.answer(0x6666, 0x8000);
        assertEquals(
                new Sample.Measured(25, Unit.CELSIUS, 7 * SECOND), temperature.read(7 * SECOND));
        Sample second = humidity.read(8 * SECOND);
        assertEquals(7 * SECOND, second.atNanos());
        assertEquals(50.00076, value(second), 1e-4);
        assertEquals(List.of("open", RESET, MEASURE, "read"), bus.traffic);

        bus.answer(0x0000, 0x0000);
        assertEquals(9 * SECOND, temperature.read(9 * SECOND).atNanos());
    }

    @Test
    void oneValueAloneIsMeasuredAnewEachTime() {
        bus.answer(0x6666, 0x6666);
        bus.answer(0x8000, 0x8000);
        assertEquals(40, value(humidity.read(1)), 1e-9);
        assertEquals(50.00076, value(humidity.read(2)), 1e-4);
    }

    @Test
    void aFlippedBitInEitherWordIsTriedAgainAndNeverShown() {
        for (int bit = 0; bit < 48; bit++) {
            byte[] damaged = result(0x6666, 0x6666);
            damaged[bit / 8] ^= (byte) (1 << (bit % 8));
            bus.answers.add(damaged);
            bus.answer(0x8000, 0x8000);
            assertEquals(42.5013, value(temperature.read(bit)), 1e-4, "bit " + bit);
            assertEquals(50.00076, value(humidity.read(bit)), 1e-4, "bit " + bit);
        }
    }

    @Test
    void anAnswerThatStaysWrongIsAChecksumDoubtForBothValuesAfterASoftReset() {
        for (int i = 0; i < 3; i++) {
            byte[] damaged = result(0x6666, 0x6666);
            damaged[2] ^= 1;
            bus.answers.add(damaged);
        }
        Sample.Failed failure = failed(temperature.read(5));
        assertEquals(Doubt.CHECKSUM, failure.why());
        String sound =
                String.format(Locale.ROOT, "%02x", ShtChecksum.of(new byte[] {0x66, 0x66}, 0, 2));
        assertTrue(
                failure.detail().contains("sht3x@1-0044 sent 66 66")
                        && failure.detail().endsWith("where " + sound + " belongs"),
                failure.detail());
        assertEquals(failure, humidity.read(5));
        assertEquals(
                List.of("open", RESET, MEASURE, "read", MEASURE, "read", RESET, MEASURE, "read"),
                bus.traffic);
    }

    @Test
    void aHungBusIsOpenedAnewAndResetUntilItAnswers() {
        bus.answers.add("Connection timed out");
        bus.answers.add("Connection timed out");
        bus.answer(0x6666, 0x6666);
        assertEquals(25, value(temperature.read(5)), 1e-9);
        assertEquals(
                List.of(
                        "open", RESET, MEASURE, "read", "close", //
                        "open", RESET, MEASURE, "read", "close", //
                        "open", RESET, MEASURE, "read"),
                bus.traffic);
    }

    @Test
    void aBusThatHangsOnIsSaidToHangAndThenCostsOneTryARound() {
        Sample.Failed failure = failed(temperature.read(5));
        assertEquals(Doubt.DRIVER, failure.why());
        assertTrue(failure.detail().contains("the bus hangs"), failure.detail());
        bus.traffic.clear();

        failed(humidity.read(5));
        assertEquals(List.of(), bus.traffic);
        failed(temperature.read(6));
        assertEquals(List.of("open", RESET, MEASURE, "read", "close"), bus.traffic);

        bus.answer(0x6666, 0x6666);
        bus.answers.addFirst("Connection timed out");
        failed(temperature.read(7));
        assertEquals(25, value(temperature.read(8)), 1e-9);
    }

    @Test
    void aSensorThatDoesNotAcknowledgeIsNotThere() {
        bus.acknowledges = false;
        Sample.Failed failure = failed(temperature.read(5));
        assertEquals(Doubt.NOT_THERE, failure.why());
        assertTrue(failure.detail().contains("no answer"), failure.detail());

        bus.acknowledges = true;
        bus.answer(0x6666, 0x6666);
        assertEquals(25, value(temperature.read(6)), 1e-9);
    }

    @Test
    void anAnswerThatIsTooShortIsGarbled() {
        for (int i = 0; i < 3; i++) {
            bus.answers.add(new byte[] {0x66, 0x66, (byte) 0x93});
        }
        assertEquals(Doubt.GARBLED, failed(temperature.read(5)).why());
    }

    @Test
    void aBusThatIsNotThereNamesWhatToSwitchOn() {
        ShtSensor none =
                new ShtSensor(
                        ShtAddress.parse("sht3x@1-0044/temp").orElseThrow().device(),
                        (number, address) -> {
                            throw new NoSuchFileException("/dev/i2c-1");
                        },
                        nanos -> {});
        Sample.Failed failure = failed(none.source(Unit.CELSIUS).read(5));
        assertEquals(Doubt.NOT_THERE, failure.why());
        assertTrue(failure.detail().contains("/dev/i2c-1 is not there"), failure.detail());
        assertTrue(failure.detail().contains("i2c_arm=on"), failure.detail());
    }

    /** As with a kernel call that never comes back: the bus's reader hangs, its probes do not. */
    @Test
    void aReadThatNeverReturnsLeavesTheProbesAnsweringWithWhatTheyHave() throws Exception {
        CountDownLatch reading = new CountDownLatch(1);
        CountDownLatch release = new CountDownLatch(1);
        ShtSensor hanging =
                new ShtSensor(
                        ShtAddress.parse("sht3x@1-0044/temp").orElseThrow().device(),
                        (number, address) -> {
                            reading.countDown();
                            try {
                                release.await();
                            } catch (InterruptedException e) {
                                Thread.currentThread().interrupt();
                            }
                            throw new IOException("Connection timed out");
                        },
                        nanos -> {});
        try (BusReader reader =
                new BusReader(
                        "i2c-1",
                        List.of(new BusReader.Sensor("air", hanging.source(Unit.CELSIUS))),
                        SECOND,
                        () -> 3)) {
            reader.start();
            reading.await();
            assertEquals(new Sample.NotYet(3), reader.probe(0).newest());
            release.countDown();
        }
    }

    @Test
    void addressesThatAreNoneAreRefused() {
        for (String text :
                List.of(
                        "sht3x",
                        "sht3x@1-0044",
                        "sht3x@1-0043/temp",
                        "sht3x@1-44/temp",
                        "sht5x@1-0044/temp",
                        "sht3x@1-0044/temp1",
                        "sht3x@123-0044/temp")) {
            assertTrue(ShtAddress.parse(text).isEmpty(), text);
        }
        assertEquals(
                "sht4x@0-0046/humidity",
                ShtAddress.parse("sht4x@0-0046/humidity").orElseThrow().toString());
    }
}
