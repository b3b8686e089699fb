package io.evenwarm.monitor.alarm;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.ProbeReading;
import io.evenwarm.message.Reading;
import io.evenwarm.quantity.Temperature;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * How cold the coldest eggs are taken to be. Tubs follow the air late: minutes with an open door
 * cool the air to the room's temperature and the eggs by a degree, and after hours without heat the
 * eggs are still cold when the air is warm again. Where a tub has a probe it is that probe's; else
 * it follows the coldest air by a first-order lag: down sooner than any tub, and up later.
 *
 * @param coldestCelsius of the eggs, °C
 * @param isWarming whether the coldest air is warmer than that by {@value #WARMER_KELVIN} K, so
 *     that they get no colder as long as it stays so
 * @param nanos monotonic time of the reading that it comes from
 */
public record EggCourse(double coldestCelsius, boolean isWarming, long nanos) {

    /** Shorter than a tub's in the wind of a fan; a guess of ours, no source. */
    static final double COOLING_LAG_SECONDS = 1800;

    /** Longer than a large tub's in still air; a guess of ours, no source. */
    static final double WARMING_LAG_SECONDS = 2 * 3600;

    /** More than a heater's ripple. */
    static final double WARMER_KELVIN = 0.3;

    private static final double NANOS_PER_SECOND = 1e9;

    /**
     * After one more snapshot. At the first one the eggs are as cold as the air, and a cabinet of
     * which nothing was ever read is at its set point.
     */
    static EggCourse after(Optional<EggCourse> before, CabinetSnapshot snapshot, Now now) {
        OptionalDouble tub = OptionalDouble.empty();
        OptionalDouble air = OptionalDouble.empty();
        for (ProbeReading probe : snapshot.probes()) {
            if (!(probe.reading() instanceof Reading.Good good)
                    || !(good.value() instanceof Temperature temperature)
                    || Observation.isDoubted(snapshot, probe.probe())) {
                continue;
            }
            ProbePlace.Kind kind = probe.place().kind();
            if (kind == ProbePlace.Kind.TUB) {
                tub = colder(tub, temperature.celsius());
            } else if (kind != ProbePlace.Kind.AMBIENT) {
                air = colder(air, temperature.celsius());
            }
        }
        if (tub.isPresent()) {
            return new EggCourse(tub.getAsDouble(), isWarmer(air, tub.getAsDouble()), now.nanos());
        }
        if (air.isEmpty()) {
            return before.orElseGet(
                    () -> new EggCourse(snapshot.setPoint().celsius(), false, now.nanos()));
        }
        double celsius = air.getAsDouble();
        return before.map(past -> past.towards(celsius, now))
                .orElseGet(() -> new EggCourse(celsius, false, now.nanos()));
    }

    private static OptionalDouble colder(OptionalDouble one, double celsius) {
        return OptionalDouble.of(Math.min(one.orElse(celsius), celsius));
    }

    private static boolean isWarmer(OptionalDouble air, double eggCelsius) {
        return air.orElse(eggCelsius) > eggCelsius + WARMER_KELVIN;
    }

    private EggCourse towards(double airCelsius, Now now) {
        double seconds = Math.max(0, now.sinceNanos(nanos) / NANOS_PER_SECOND);
        double lag = airCelsius < coldestCelsius ? COOLING_LAG_SECONDS : WARMING_LAG_SECONDS;
        double left = Math.exp(-seconds / lag);
        double celsius = airCelsius + (coldestCelsius - airCelsius) * left;
        return new EggCourse(
                celsius, isWarmer(OptionalDouble.of(airCelsius), celsius), now.nanos());
    }

    EggCourse shifted(long byNanos) {
        return new EggCourse(coldestCelsius, isWarming, nanos + byNanos);
    }
}
