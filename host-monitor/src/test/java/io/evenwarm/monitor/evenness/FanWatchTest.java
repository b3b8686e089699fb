package io.evenwarm.monitor.evenness;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import java.util.Locale;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

/** An invented cabinet of which parting = a + b · duty / flow holds, with noise. */
final class FanWatchTest {

    private static final int STRETCHES_A_DAY = 144;
    private static final double PROBES_KELVIN = -0.2;
    private static final double HEAT_KELVIN = 1.6;

    private final FanWatch watch = new FanWatch();
    private final Random random = new Random(8);

    private static String word(FanState state) {
        return state.fold(l -> "learning", s -> "steady", w -> "weak", s -> "stopped");
    }

    private AirStretch stretch(long number, double duty, double flow, double moreKelvin) {
        double parting =
                PROBES_KELVIN
                        + HEAT_KELVIN * duty / flow
                        + moreKelvin
                        + 0.03 * random.nextGaussian();
        return new AirStretch(
                number * AirStretch.LENGTH_MILLIS,
                31.5 + parting / 2,
                31.5 - parting / 2,
                duty,
                0.05 * random.nextGaussian());
    }

    private double duty(long number) {
        double day = number / (double) STRETCHES_A_DAY;
        return 0.3
                + 0.15 * Math.sin(2 * Math.PI * day / 365)
                + 0.05 * Math.sin(2 * Math.PI * day)
                + 0.01 * random.nextGaussian();
    }

    private FanState run(int fromDay, int toDay, DoubleUnaryOperator flow) {
        for (long i = (long) fromDay * STRETCHES_A_DAY; i < (long) toDay * STRETCHES_A_DAY; i++) {
            watch.add(stretch(i, duty(i), flow.applyAsDouble(i / (double) STRETCHES_A_DAY), 0));
        }
        return watch.state();
    }

    @Test
    void twoWeeksAreLearnedFirst() {
        assertEquals(new FanState.Learning(14), watch.state());
        assertEquals(new FanState.Learning(5), run(0, 10, day -> 1));
        assertEquals("steady", word(run(10, 16, day -> 1)));
    }

    @Test
    void seasonsDontTripItThoughTheyMoveTheParting() {
        run(0, 380, day -> 1);
        assertEquals("steady", word(watch.state()));
        assertTrue(watch.days().stream().noneMatch(day -> day.sum() >= 1));
        double most = watch.days().stream().mapToDouble(FanDay::partingKelvin).max().orElseThrow();
        double least = watch.days().stream().mapToDouble(FanDay::partingKelvin).min().orElseThrow();
        assertTrue(most - least > 0.4, most - least + " K over the seasons");
    }

    @Test
    void aWeakeningFanIsFoundAndItsFlowToldAboutRight() {
        run(0, 30, day -> 1);
        FanState state = run(30, 86, day -> 1 - 0.4 * (day - 30) / 56);
        FanState.Weak weak = (FanState.Weak) state;
        double foundAt = 1 - 0.4 * (weak.sinceMillis() / 86_400_000.0 - 30) / 56;
        assertTrue(foundAt > 0.8, "found at a flow of " + foundAt);
        assertEquals(0.61, weak.flowShare(), 0.05);
        assertEquals("steady", word(run(86, 110, day -> 1)), "after it was cleaned");
    }

    @Test
    void aStoppedFanIsFoundWithinHalfAnHour() {
        run(0, 20, day -> 1);
        long first = 20L * STRETCHES_A_DAY;
        assertEquals("steady", word(watch.add(stretch(first, 0.3, 1, 3))));
        assertEquals("steady", word(watch.add(stretch(first + 1, 0.3, 1, 3))));
        FanState.Stopped stopped = (FanState.Stopped) watch.add(stretch(first + 2, 0.3, 1, 3));
        assertEquals(first * AirStretch.LENGTH_MILLIS, stopped.sinceMillis());
        assertEquals(3, stopped.moreKelvin(), 0.2);
        for (int i = 3; i < 9; i++) {
            watch.add(stretch(first + i, 0.3, 1, 0));
        }
        assertEquals("steady", word(watch.state()));
    }

    /** For an hour the bottom is 2 K colder and the air as a whole 1 K: cold tubs. */
    @Test
    void coldTubsAndDoorsAreNoFan() {
        run(0, 20, day -> 1);
        long first = 20L * STRETCHES_A_DAY;
        for (int day = 0; day < 30; day++) {
            for (int i = 0; i < STRETCHES_A_DAY; i++) {
                long number = first + (long) day * STRETCHES_A_DAY + i;
                boolean isLoading = day % 3 == 0 && i >= 60 && i < 66;
                AirStretch stretch = stretch(number, duty(number), 1, isLoading ? 2 : 0);
                FanState state =
                        watch.add(
                                isLoading
                                        ? new AirStretch(
                                                stretch.beginMillis(),
                                                stretch.topCelsius() - 1,
                                                stretch.bottomCelsius() - 1,
                                                1,
                                                -1)
                                        : stretch);
                assertEquals("steady", word(state));
            }
        }
    }

    @Test
    void twoYearsOfTwentyCabinets() {
        MonotonicClock clock = SystemClock.monotonic();
        AirStretch[] made = new AirStretch[2 * 365 * STRETCHES_A_DAY];
        for (int i = 0; i < made.length; i++) {
            made[i] = stretch(i, duty(i), 1, 0);
        }
        long begin = clock.nanos();
        for (int cabinet = 0; cabinet < 20; cabinet++) {
            FanWatch one = new FanWatch();
            for (AirStretch stretch : made) {
                one.add(stretch);
            }
            assertEquals("steady", word(one.state()));
        }
        double seconds = (clock.nanos() - begin) / 1e9;
        System.out.printf(
                Locale.ROOT,
                "fan health of 20 cabinets over two years, %d stretches of 10 min each: %.3f s%n",
                made.length,
                seconds);
        assertTrue(seconds < 5, seconds + " s");
    }
}
