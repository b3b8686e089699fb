package io.evenwarm.monitor.view;

import io.evenwarm.monitor.alarm.WithoutHeat;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.history.Curve;
import io.evenwarm.quantity.Temperature;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * Models of the invented cabinets: one of the calm and of the disagreeing one, for the others the
 * settings' constants. The eggs follow the door that was left ajar slowly.
 */
final class InventedEggs implements WindowEggs {

    private static final int STEP_MILLIS = 300_000;
    private static final int STEPS = 3 * 288;
    private static final double BAND_KELVIN = 0.3;

    private final Supplier<Instant> now;
    private final Instant opened;

    InventedEggs(Supplier<Instant> now) {
        this.now = now;
        opened = now.get();
    }

    private static boolean hasModel(CabinetKey key) {
        return key.equals(InventedCabinets.Story.CALM.key())
                || key.equals(InventedCabinets.Story.DISAGREES.key());
    }

    @Override
    public Optional<WithoutHeat> withoutHeat(CabinetKey key) {
        return Optional.of(
                new WithoutHeat(
                        Optional.of(Duration.ofMinutes(hasModel(key) ? 327 : 95)),
                        Temperature.ofCelsius(24),
                        hasModel(key)
                                ? Optional.of(Temperature.ofCelsius(31.2))
                                : Optional.empty()));
    }

    @Override
    public Optional<Estimated> estimated(CabinetKey key) {
        if (!hasModel(key)) {
            return Optional.empty();
        }
        long end = now.get().toEpochMilli() / STEP_MILLIS * STEP_MILLIS;
        long[] millis = new long[STEPS];
        double[] likely = new double[STEPS];
        double[] low = new double[STEPS];
        double[] high = new double[STEPS];
        for (int i = 0; i < STEPS; i++) {
            millis[i] = end - (STEPS - 1 - i) * (long) STEP_MILLIS;
            double door = (millis[i] - opened.toEpochMilli()) / 1000.0 + 19_600;
            double dip = door < 0 ? 0 : door < 900 ? door / 900 : Math.exp(-(door - 900) / 5200);
            likely[i] = 31.45 - 0.45 * dip;
            low[i] = likely[i] - BAND_KELVIN - 0.1;
            high[i] = likely[i] + BAND_KELVIN + 0.1;
        }
        return Optional.of(
                new Estimated(
                        Curve.of(millis, likely, STEPS),
                        Curve.of(millis, low, STEPS),
                        Curve.of(millis, high, STEPS)));
    }
}
