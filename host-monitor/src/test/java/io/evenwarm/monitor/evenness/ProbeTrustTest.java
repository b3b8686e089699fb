package io.evenwarm.monitor.evenness;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.history.Curve;
import io.evenwarm.monitor.history.TimeSpan;
import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import java.util.Random;
import org.junit.jupiter.api.Test;

final class ProbeTrustTest {

    private static final int SESSIONS = 1000;
    private static final int MINUTES = 60;
    private static final TimeSpan HOUR =
            new TimeSpan(InventedCabinet.BEGIN, InventedCabinet.at(MINUTES));
    private static final ProbeQuality REFERENCE =
            new ProbeQuality(0.01, 0.1, 0, OptionalDouble.of(0.02), 0);
    private static final ProbeQuality AS_BOUGHT = SensorClass.DS18B20.thermometer();

    /** Readings each 10 s of a probe with an error in a bath. */
    private static SurveyPoint probe(
            String name, ProbeQuality quality, double[] bath, double error, Random random) {
        long[] times = new long[bath.length];
        double[] values = new double[bath.length];
        for (int i = 0; i < times.length; i++) {
            times[i] = InventedCabinet.BEGIN.toEpochMilli() + 10_000L * i;
            double read = bath[i] + error + 0.02 * random.nextGaussian();
            values[i] = Math.rint(read / quality.resolution()) * quality.resolution();
        }
        return new SurveyPoint(
                name,
                new Position(name, Optional.empty()),
                quality,
                Curve.of(times, values, values.length));
    }

    /** Comes down to its end within minutes, and wanders slowly. */
    private static double[] bath(double end, Random random) {
        double[] bath = new double[6 * MINUTES];
        double slow = 0;
        for (int i = 0; i < bath.length; i++) {
            slow = 0.99 * slow + 0.004 * random.nextGaussian();
            bath[i] = end + 5 * Math.exp(-i / 30.0) + slow;
        }
        return bath;
    }

    private static List<ProbeOffset> offsets(ProbeCheckResult result) {
        return result.fold(
                ProbeCheckResult.Checked::offsets,
                withheld -> {
                    throw new AssertionError(withheld.reasons().toString());
                });
    }

    private static List<Reason> reasons(ProbeCheckResult result) {
        return result.fold(checked -> List.of(), ProbeCheckResult.Withheld::reasons);
    }

    @Test
    void offsetsAreFoundWithinTheirUncertaintyInNinetyFivePercentOfSessions() {
        int within = 0;
        int all = 0;
        for (int session = 0; session < SESSIONS; session++) {
            Random random = new Random(7000 + session);
            double[] bath = bath(28 + 6 * random.nextDouble(), random);
            SurveyPoint reference =
                    probe("reference", REFERENCE, bath, 0.02 * random.nextGaussian(), random);
            double[] errors = new double[3];
            SurveyPoint[] probes = new SurveyPoint[errors.length];
            for (int i = 0; i < errors.length; i++) {
                errors[i] = random.nextDouble() - 0.5;
                double place = 0.02 * (2 * random.nextDouble() - 1);
                probes[i] = probe("p" + i, AS_BOUGHT, bath, errors[i] + place, random);
            }
            List<ProbeOffset> found =
                    offsets(
                            ProbeCheck.sideBySide(
                                    HOUR,
                                    reference,
                                    List.of(probes),
                                    ProbeCheck.Bath.STIRRED_WATER));
            for (int i = 0; i < errors.length; i++) {
                Estimate offset = found.get(i).offset();
                within += offset.low() <= -errors[i] && -errors[i] <= offset.high() ? 1 : 0;
                all++;
            }
        }
        System.out.printf(
                Locale.ROOT,
                "%d side-by-side sessions, %d offsets: %.2f %% recovered within ± for 95 %%%n",
                SESSIONS,
                all,
                100.0 * within / all);
        assertTrue(within >= 0.95 * all, within + " of " + all);
        // Not by being wide: the root of the sum of squares of what was put in is 0.05 K.
        assertTrue(within <= 0.995 * all, within + " of " + all);
    }

    @Test
    void iceGivesTheOffsetAtZero() {
        Random random = new Random(1);
        SurveyPoint probe = probe("top", AS_BOUGHT, bath(0, random), 0.31, random);
        ProbeOffset found =
                offsets(ProbeCheck.icePoint(HOUR, List.of(probe), ProbeCheck.Bath.STIRRED_WATER))
                        .get(0);
        assertEquals(-0.31, found.offset().value(), found.offset().expanded());
        assertTrue(found.offset().expanded() < 0.08, found.toString());
        assertEquals(HOUR.to(), found.at());
        assertFalse(found.isDue(found.at().plus(Duration.ofDays(364)), ProbeOffset.USUAL_INTERVAL));
        assertTrue(found.isDue(found.at().plus(Duration.ofDays(365)), ProbeOffset.USUAL_INTERVAL));
    }

    @Test
    void driftIsADifferenceBeyondBothUncertainties() {
        Instant then = Instant.parse("2030-01-01T00:00:00Z");
        ProbeOffset before = new ProbeOffset("top", Estimate.systematic(0.10, 0.03), then);
        ProbeOffset near = new ProbeOffset("top", Estimate.systematic(0.17, 0.03), then);
        ProbeOffset far = new ProbeOffset("top", Estimate.systematic(0.20, 0.03), then);
        assertFalse(near.hasDriftedSince(before));
        assertTrue(far.hasDriftedSince(before));
    }

    @Test
    void aProbeThatStillChangesOrIsMissingIsNamed() {
        Random random = new Random(2);
        double[] still = bath(20, random);
        double[] rising = still.clone();
        Arrays.setAll(rising, i -> still[i] + i / 300.0);
        SurveyPoint reference = probe("reference", REFERENCE, still, 0, random);
        Reason moving =
                reasons(
                                ProbeCheck.sideBySide(
                                        HOUR,
                                        reference,
                                        List.of(probe("p", AS_BOUGHT, rising, 0, random)),
                                        ProbeCheck.Bath.STIRRED_WATER))
                        .get(0);
        assertEquals(Reason.Kind.NEVER_SETTLED, moving.kind());
        assertTrue(moving.words().startsWith("p still changes"), moving.words());
        SurveyPoint half = probe("h", AS_BOUGHT, Arrays.copyOf(still, 200), 0, random);
        assertEquals(
                Reason.Kind.GAPS,
                reasons(
                                ProbeCheck.sideBySide(
                                        HOUR,
                                        reference,
                                        List.of(half),
                                        ProbeCheck.Bath.STIRRED_WATER))
                        .get(0)
                        .kind());
        TimeSpan tenMinutes = new TimeSpan(InventedCabinet.BEGIN, InventedCabinet.at(10));
        assertEquals(
                Reason.Kind.TOO_SHORT,
                reasons(
                                ProbeCheck.icePoint(
                                        tenMinutes,
                                        List.of(reference),
                                        ProbeCheck.Bath.STIRRED_WATER))
                        .get(0)
                        .kind());
    }

    private static final long MINUTE = 60_000;

    @Test
    void probesDisagreeOnlyBeyondTheirUncertaintyAndForLongEnough() {
        // Each ±0.5 K: u = 0.289 K, of the difference 0.41 K; 2 u = 0.82 K.
        Disagreement rule = new Disagreement(AS_BOUGHT, AS_BOUGHT, 0.2, 30 * MINUTE);
        assertEquals(0.82, rule.allowed(), 0.01);
        long time = 0;
        for (; time < 120 * MINUTE; time += MINUTE) {
            assertEquals(OptionalLong.empty(), rule.add(time, 32.3, 31.3));
        }
        long began = time;
        for (; time < began + 30 * MINUTE; time += MINUTE) {
            assertEquals(OptionalLong.empty(), rule.add(time, 32.4, 31.3));
        }
        assertEquals(OptionalLong.of(began), rule.add(time, 32.4, 31.3));
        assertEquals(OptionalLong.of(began), rule.add(time + MINUTE, Double.NaN, 31.3));
        assertEquals(OptionalLong.empty(), rule.add(time + 2 * MINUTE, 31.5, 31.3));
    }

    @Test
    void changingSidesOrAHoleBeginsAnew() {
        Disagreement rule = new Disagreement(REFERENCE, REFERENCE, 0, 10 * MINUTE);
        rule.add(0, 31, 30);
        assertEquals(OptionalLong.empty(), rule.add(10 * MINUTE, 30, 31));
        assertEquals(OptionalLong.of(10 * MINUTE), rule.add(20 * MINUTE, 30, 31));
        assertEquals(OptionalLong.empty(), rule.add(100 * MINUTE, 30, 31));
        assertEquals(OptionalLong.of(100 * MINUTE), rule.add(110 * MINUTE, 30, 31));
    }
}
