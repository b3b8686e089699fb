package io.evenwarm.agent.reading;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.agent.plan.ProbePlan;
import io.evenwarm.agent.port.Sample;
import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.Reading;
import io.evenwarm.message.Reading.Doubt;
import io.evenwarm.quantity.RelativeHumidity;
import io.evenwarm.quantity.Temperature;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

final class SampleCheckTest {

    private static final long SECOND = 1_000_000_000L;
    private static final double STALE_AFTER_SECONDS = 10;

    private final SampleCheck check = new SampleCheck(plan(0, ProbePlan.Sensor.DS18B20));
    private long now = 100 * SECOND;

    private static ProbePlan plan(double offsetKelvin, ProbePlan.Sensor sensor) {
        return new ProbePlan(
                new ProbeName("top"),
                ProbePlace.TOP,
                false,
                offsetKelvin,
                STALE_AFTER_SECONDS,
                sensor);
    }

    private Reading celsius(double celsius) {
        return take(new Sample.Measured(celsius, Sample.Unit.CELSIUS, now));
    }

    private Reading fails(Doubt why) {
        return take(new Sample.Failed(why, "put in by the test", now));
    }

    private Reading take(Sample sample) {
        Reading reading = check.check(sample, now);
        now += SECOND;
        return reading;
    }

    private static void assertGood(double celsius, Reading reading) {
        assertEquals(
                new Temperature(celsius),
                assertInstanceOf(Reading.Good.class, reading, reading.toString()).value());
    }

    private static void assertBad(Doubt doubt, Reading reading) {
        assertEquals(
                doubt, assertInstanceOf(Reading.Bad.class, reading, reading.toString()).doubt());
    }

    private static void assertUncertain(Doubt doubt, Reading reading) {
        assertEquals(
                doubt,
                assertInstanceOf(Reading.Uncertain.class, reading, reading.toString()).doubt());
    }

    @Test
    void aPlausibleSampleIsAGoodReadingWithTheSamplesTime() {
        Reading reading = celsius(31.5625);
        assertGood(31.5625, reading);
        assertEquals(100 * SECOND, reading.sampledAtNanos());
    }

    @Test
    void nothingReadYetIsSaidSo() {
        assertBad(Doubt.NOT_YET_READ, take(new Sample.NotYet(0)));
        now += 100 * SECOND;
        assertBad(Doubt.NOT_YET_READ, check.check(new Sample.NotYet(0), now));
    }

    @Test
    void theSameSampleGivesTheSameObjectUntilItIsTooOld() {
        Sample sample = new Sample.Measured(31, Sample.Unit.CELSIUS, now);
        Reading first = check.check(sample, now);
        assertSame(first, check.check(sample, now + 10 * SECOND));
        Reading stale = check.check(sample, now + 10 * SECOND + 1);
        assertBad(Doubt.STALE, stale);
        assertEquals(now, stale.sampledAtNanos(), "the time of the last value");
        assertSame(stale, check.check(sample, now + 20 * SECOND));
    }

    @Test
    void theOffsetIsAdded() {
        SampleCheck shifted = new SampleCheck(plan(-0.25, ProbePlan.Sensor.DS18B20));
        assertGood(31.25, shifted.check(new Sample.Measured(31.5, Sample.Unit.CELSIUS, now), now));
    }

    @Test
    void thePowerOnValueIsKnownBeforeTheOffset() {
        SampleCheck shifted = new SampleCheck(plan(-0.25, ProbePlan.Sensor.DS18B20));
        assertBad(
                Doubt.POWER_ON_VALUE,
                shifted.check(new Sample.Measured(85, Sample.Unit.CELSIUS, now), now));
    }

    /** Linux Documentation/w1/slaves/w1_therm.rst, "features"; DS18B20 data sheet, table 1. */
    @Test
    void eightyFiveAfterPowerUpIsNotAHotCabinet() {
        assertBad(Doubt.POWER_ON_VALUE, celsius(85.0));
        assertGood(21, celsius(21));
    }

    /** As above: a probe that lost its supply for a moment. */
    @Test
    void aJumpToEightyFiveLeavesTheLastValueUntilItIsTooOld() {
        assertGood(31, celsius(31));
        for (int i = 0; i < 10; i++) {
            assertGood(31, celsius(85.0));
        }
        assertBad(Doubt.POWER_ON_VALUE, celsius(85.0));
    }

    @Test
    void anotherSensorsEightyFiveIsJustOutOfRange() {
        SampleCheck other = new SampleCheck(plan(0, ProbePlan.Sensor.OTHER_THERMOMETER));
        assertBad(
                Doubt.OUT_OF_RANGE,
                other.check(new Sample.Measured(85, Sample.Unit.CELSIUS, now), now));
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY})
    void whatIsNoNumberStopsHere(double value) {
        assertBad(Doubt.GARBLED, celsius(value));
        assertGood(30, celsius(30));
        assertGood(30, celsius(value));
    }

    /** −30 to 70 °C; 127.9375 is what a DS18B20 with too little supply may say (w1_therm.rst). */
    @ParameterizedTest
    @ValueSource(doubles = {-30.0625, -55, -1e300, 70.0625, 125, 127.9375, 1e300})
    void whatNoCabinetShowsIsOutOfRange(double value) {
        assertBad(Doubt.OUT_OF_RANGE, celsius(value));
    }

    @ParameterizedTest
    @ValueSource(doubles = {-30, 0, 70})
    void theEndsOfTheRangeAreInIt(double value) {
        assertGood(value, celsius(value));
    }

    @Test
    void oneFailureAmongGoodSamplesChangesNothing() {
        Reading good = celsius(31);
        assertSame(good, fails(Doubt.CHECKSUM));
        assertGood(31.0625, celsius(31.0625));
    }

    @Test
    void failuresThatGoOnTakeTheValueAwayForTheirOwnReason() {
        celsius(31);
        for (int i = 0; i < 10; i++) {
            assertGood(31, fails(Doubt.NOT_THERE));
        }
        assertBad(Doubt.NOT_THERE, fails(Doubt.NOT_THERE));
        assertBad(Doubt.CHECKSUM, fails(Doubt.CHECKSUM));
        assertGood(31, celsius(31));
    }

    @Test
    void aBusThatHangsAfterAFailureIsStaleInTheEnd() {
        Sample failed = new Sample.Failed(Doubt.CHECKSUM, "put in by the test", now);
        assertBad(Doubt.CHECKSUM, check.check(failed, now));
        assertBad(Doubt.CHECKSUM, check.check(failed, now + 10 * SECOND));
        assertBad(Doubt.STALE, check.check(failed, now + 11 * SECOND));
    }

    @Test
    void whatTheDriverFoundCanBeTold() {
        take(new Sample.Failed(Doubt.NOT_THERE, "no /sys/bus/w1/devices/28-1/w1_slave", now));
        assertEquals("no /sys/bus/w1/devices/28-1/w1_slave", check.rejection());
    }

    @Test
    void aJumpIsUncertainAndComesBackWhenThreeSamplesAgree() {
        celsius(31);
        assertUncertain(Doubt.TOO_FAST, celsius(24));
        assertUncertain(Doubt.TOO_FAST, celsius(23.9));
        assertGood(23.8, celsius(23.8));
        assertGood(23.7, celsius(23.7));
    }

    @Test
    void oneFreakSampleIsForgottenWithTheNext() {
        celsius(31);
        assertUncertain(Doubt.TOO_FAST, celsius(45));
        assertGood(31.0625, celsius(31.0625));
    }

    @Test
    void samplesThatAgreeWithNothingStayUncertain() {
        celsius(31);
        for (int i = 0; i < 30; i++) {
            assertUncertain(Doubt.TOO_FAST, celsius(i % 2 == 0 ? 45 : 55));
        }
    }

    @Test
    void anUncertainValueGrowsTooOldAsAGoodOneDoes() {
        celsius(31);
        Sample jump = new Sample.Measured(45, Sample.Unit.CELSIUS, now);
        assertUncertain(Doubt.TOO_FAST, check.check(jump, now + 10 * SECOND));
        assertBad(Doubt.STALE, check.check(jump, now + 11 * SECOND));
    }

    @Test
    void theFastestRealChangeIsGood() {
        double celsius = 31;
        celsius(celsius);
        for (int i = 0; i < 10; i++) {
            celsius -= 1;
            assertGood(celsius, celsius(celsius));
        }
    }

    @Test
    void aProbeThatComesBackElsewhereMustConfirmIt() {
        celsius(31);
        now += 3600 * SECOND;
        assertUncertain(Doubt.TOO_FAST, celsius(21));
        assertUncertain(Doubt.TOO_FAST, celsius(21));
        assertGood(21, celsius(21));
    }

    @Test
    void aTimeFromTheFutureDoesNotKeepASampleYoung() {
        Sample future = new Sample.Measured(31, Sample.Unit.CELSIUS, now + 3600 * SECOND);
        assertGood(31, check.check(future, now));
        assertBad(Doubt.STALE, check.check(future, now + 11 * SECOND));
    }

    @Test
    void anOlderSampleThanTheNewestIsLeftOut() {
        assertGood(31, celsius(31));
        Sample older = new Sample.Measured(29, Sample.Unit.CELSIUS, now - 5 * SECOND);
        assertGood(31, take(older));
    }

    @Test
    void theMonotonicClockMayPassItsLargestNumber() {
        now = Long.MAX_VALUE - SECOND / 2;
        assertGood(31, celsius(31));
        assertGood(31.1, celsius(31.1));
        Sample last = new Sample.Measured(31.2, Sample.Unit.CELSIUS, now);
        assertGood(31.2, check.check(last, now));
        assertBad(Doubt.STALE, check.check(last, now + 11 * SECOND));
    }

    @Test
    void aHygrometersValueIsAHumidity() {
        SampleCheck humidity = new SampleCheck(plan(1, ProbePlan.Sensor.HYGROMETER));
        Reading reading =
                humidity.check(
                        new Sample.Measured(88.5, Sample.Unit.PERCENT_RELATIVE_HUMIDITY, now), now);
        assertEquals(
                new RelativeHumidity(88.5), assertInstanceOf(Reading.Good.class, reading).value());
        for (double percent : List.of(101.9, 100.0)) {
            now += SECOND;
            Reading wet =
                    humidity.check(
                            new Sample.Measured(
                                    percent, Sample.Unit.PERCENT_RELATIVE_HUMIDITY, now),
                            now);
            assertEquals(
                    new RelativeHumidity(100), assertInstanceOf(Reading.Good.class, wet).value());
        }
    }

    @ParameterizedTest
    @ValueSource(doubles = {-2.1, 102.1, Double.NaN})
    void aHumidityOutOfRangeIsRejected(double percent) {
        SampleCheck humidity = new SampleCheck(plan(0, ProbePlan.Sensor.HYGROMETER));
        assertInstanceOf(
                Reading.Bad.class,
                humidity.check(
                        new Sample.Measured(percent, Sample.Unit.PERCENT_RELATIVE_HUMIDITY, now),
                        now));
    }

    @Test
    void aHumidityFromAThermometerIsGarbage() {
        assertBad(
                Doubt.GARBLED,
                take(new Sample.Measured(50, Sample.Unit.PERCENT_RELATIVE_HUMIDITY, now)));
    }

    /** Any sequence of samples: a good reading is plausible, fresh and close to the last one. */
    @Test
    void randomSequencesNeverGiveAGoodReadingThatIsOldOrImpossible() {
        for (int seed = 1; seed <= 200; seed++) {
            Random random = new Random(seed);
            SampleCheck one = new SampleCheck(plan(0, ProbePlan.Sensor.DS18B20));
            long nowNanos = random.nextLong();
            Sample sample = new Sample.NotYet(nowNanos);
            for (int tick = 0; tick < 500; tick++) {
                nowNanos += (long) (random.nextDouble() * 3 * SECOND);
                if (random.nextInt(3) > 0) {
                    sample = randomSample(random, nowNanos);
                }
                Reading reading = one.check(sample, nowNanos);
                String where = "seed " + seed + ", tick " + tick + ": " + reading;
                assertTrue(nowNanos - reading.sampledAtNanos() >= 0, where);
                if (reading instanceof Reading.Good good) {
                    double celsius = ((Temperature) good.value()).celsius();
                    assertTrue(celsius >= -30 && celsius <= 70, where);
                    assertTrue(
                            nowNanos - good.sampledAtNanos() <= STALE_AFTER_SECONDS * SECOND,
                            where);
                }
            }
        }
    }

    private static Sample randomSample(Random random, long nowNanos) {
        long atNanos = nowNanos - (long) ((random.nextDouble() - 0.2) * 5 * SECOND);
        return switch (random.nextInt(8)) {
            case 0 ->
                    new Sample.Failed(
                            random.nextBoolean() ? Doubt.CHECKSUM : Doubt.NOT_THERE, "", atNanos);
            case 1 -> new Sample.Measured(85, Sample.Unit.CELSIUS, atNanos);
            case 2 -> new Sample.Measured(Double.NaN, Sample.Unit.CELSIUS, atNanos);
            case 3 ->
                    new Sample.Measured(
                            Double.longBitsToDouble(random.nextLong()),
                            Sample.Unit.CELSIUS,
                            atNanos);
            case 4 -> new Sample.NotYet(atNanos);
            default ->
                    new Sample.Measured(
                            31 + random.nextGaussian() * 3, Sample.Unit.CELSIUS, atNanos);
        };
    }
}
