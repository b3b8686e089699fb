package io.evenwarm.monitor.app;

import io.evenwarm.message.ProbePlace;
import io.evenwarm.monitor.thermal.ThermalRecord.Channel;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.IntToDoubleFunction;
import java.util.function.ToDoubleFunction;

/**
 * The places in a cabinet's air that are coldest and warmest on the whole; empty where none was
 * read.
 */
record AirPlaces<P>(Optional<P> coldest, Optional<P> warmest) {

    /**
     * @param thermometers wherever they are
     * @param meanCelsius of all that one read; not a number where it read nothing
     */
    static <P> AirPlaces<P> of(
            List<P> thermometers, Function<P, ProbePlace> place, ToDoubleFunction<P> meanCelsius) {
        List<P> air =
                thermometers.stream()
                        .filter(one -> ThermalHistory.channel(place.apply(one)) == Channel.AIR)
                        .filter(one -> Double.isFinite(meanCelsius.applyAsDouble(one)))
                        .toList();
        Comparator<P> byMean = Comparator.comparingDouble(meanCelsius);
        return new AirPlaces<>(air.stream().min(byMean), air.stream().max(byMean));
    }

    /** Mean of those that are numbers; not a number where none is. */
    static double mean(int size, IntToDoubleFunction value) {
        double sum = 0;
        int count = 0;
        for (int i = 0; i < size; i++) {
            double one = value.applyAsDouble(i);
            if (Double.isFinite(one)) {
                sum += one;
                count++;
            }
        }
        return sum / count;
    }
}
