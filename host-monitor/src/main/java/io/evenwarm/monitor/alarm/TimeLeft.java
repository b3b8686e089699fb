package io.evenwarm.monitor.alarm;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.monitor.history.CabinetKey;
import java.time.Duration;
import java.util.Optional;
import java.util.OptionalDouble;

/** How long the eggs in a cabinet have, if nobody does anything. */
@FunctionalInterface
public interface TimeLeft {

    /**
     * Judges one snapshot. Errs on the short side, and says by which assumptions.
     *
     * @param coldestEggCelsius what the coldest eggs are taken to have, °C
     */
    Estimate of(CabinetSnapshot snapshot, double coldestEggCelsius);

    /**
     * The same where it is known whose cabinet it is, for what knows cabinets one by one.
     *
     * @param key of the cabinet that the snapshot is of
     */
    default Estimate of(CabinetKey key, CabinetSnapshot snapshot, double coldestEggCelsius) {
        return of(snapshot, coldestEggCelsius);
    }

    /**
     * How long, in either direction.
     *
     * @param toCold until the lower lethal limit, from the snapshot on; empty where it will not be
     *     crossed
     * @param toHeat until the upper one; empty where it will not be crossed
     * @param coldLimitCelsius the lower limit that it is to, °C; empty where it is not known
     * @param eggsCelsius what a model of this cabinet takes the coldest eggs to have, °C; empty
     *     where no model answered
     * @param assumptions what it rests on, in plain words
     */
    record Estimate(
            Optional<Duration> toCold,
            Optional<Duration> toHeat,
            OptionalDouble coldLimitCelsius,
            OptionalDouble eggsCelsius,
            String assumptions) {

        /** Where neither limit nor model is known. */
        Estimate(Optional<Duration> toCold, Optional<Duration> toHeat, String assumptions) {
            this(toCold, toHeat, OptionalDouble.empty(), OptionalDouble.empty(), assumptions);
        }

        /** The shorter of the two. */
        Optional<Duration> toEither() {
            if (toCold.isEmpty() || toHeat.isEmpty()) {
                return toCold.isPresent() ? toCold : toHeat;
            }
            return toCold.get().compareTo(toHeat.get()) <= 0 ? toCold : toHeat;
        }
    }
}
