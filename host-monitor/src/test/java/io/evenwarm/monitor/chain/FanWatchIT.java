package io.evenwarm.monitor.chain;

import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.evenness.FanState;
import io.evenwarm.monitor.evenness.FanWatch;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Fans of simulated cabinets. {@code -Dfan.cabinets=200 -Dfan.years=100} is the whole claim; the
 * shares below each time.
 */
@Tag("long")
final class FanWatchIT {

    private static final int CABINETS = Integer.getInteger("fan.cabinets", 5);
    private static final int YEARS = Integer.getInteger("fan.years", 1);

    private static final int SOUND_DAYS = 15;
    private static final int WEAKENING_DAYS = 56;
    private static final double DAY_MILLIS = 86_400_000;

    /** What a watch said of one cabinet. */
    private static final class Calls {
        private final FanWatch watch = new FanWatch();
        private int calls;
        private OptionalDouble firstDay = OptionalDouble.empty();
        private boolean wasCalling;

        static Calls of(long seed, int days, DoubleUnaryOperator flow) {
            Calls calls = new Calls();
            new FanYears(seed)
                    .run(
                            days,
                            flow,
                            stretch ->
                                    calls.take(
                                            calls.watch.add(stretch),
                                            stretch.beginMillis() / DAY_MILLIS));
            return calls;
        }

        private void take(FanState state, double day) {
            boolean isCalling = state.fold(l -> false, s -> false, w -> true, s -> true);
            if (isCalling && !wasCalling) {
                calls++;
                firstDay = firstDay.isPresent() ? firstDay : OptionalDouble.of(day);
            }
            wasCalling = isCalling;
        }
    }

    private static double weakening(double day) {
        return Math.max(0.6, 1 - 0.4 * Math.max(0, day - SOUND_DAYS) / WEAKENING_DAYS);
    }

    @Test
    void aWeakeningFanIsFoundLongBeforeThreeQuartersOfItsFlow() {
        List<Double> flows = new ArrayList<>();
        for (int seed = 0; seed < CABINETS; seed++) {
            Calls calls = Calls.of(seed, SOUND_DAYS + WEAKENING_DAYS, FanWatchIT::weakening);
            flows.add(calls.firstDay.isPresent() ? weakening(calls.firstDay.getAsDouble()) : 0);
        }
        Collections.sort(flows);
        double median = flows.get((flows.size() - 1) / 2);
        System.out.printf(
                Locale.ROOT,
                "%d weakening fans, 100 %% to 60 %% in 8 weeks: found at %.1f %% of the flow at the"
                        + " median, at %.1f %% at the latest (0: not found)%n",
                CABINETS,
                100 * median,
                100 * flows.get(0));
        assertTrue(median > 0.75, "median " + median);
    }

    @Test
    void soundFansAreHardlyEverCalled() {
        int calls = 0;
        for (int seed = 0; seed < YEARS; seed++) {
            calls += Calls.of(5000 + seed, 365, day -> 1).calls;
        }
        System.out.printf(
                Locale.ROOT,
                "%d healthy cabinet-years with seasons, looks inside and reloading: %d calls%n",
                YEARS,
                calls);
        assertTrue(calls <= Math.max(1, YEARS / 5.0), calls + " calls");
    }

    @Test
    void aStoppedFanIsFoundTheSameHour() {
        for (int seed = 100; seed < 103; seed++) {
            int stopDay = 16;
            Calls calls = Calls.of(seed, stopDay + 1, day -> day >= stopDay ? 0 : 1);
            double hours = 24 * (calls.firstDay.orElse(Double.MAX_VALUE) - stopDay);
            assertTrue(hours >= 0 && hours <= 1, "seed " + seed + ": after " + hours + " h");
        }
    }
}
