package io.evenwarm.monitor.chart;

import io.evenwarm.message.Limits;
import java.util.Optional;
import java.util.stream.DoubleStream;

/**
 * The stretch of a value axis.
 *
 * @param low its lower end
 * @param high its upper end, above {@code low}
 */
record ValueRange(double low, double high) {

    /** Around the set point this much is always shown, so that calm looks calm. */
    static final double ALWAYS_SHOWN_KELVIN = 1.5;

    /** Half the height of the close-up. */
    static final double CLOSE_UP_KELVIN = 0.5;

    /** A limit this near to what is shown is shown too. */
    private static final double LIMIT_IS_NEAR_KELVIN = 0.6;

    private static final double MARGIN_SHARE = 0.05;

    ValueRange {
        if (!(low < high)) {
            throw new IllegalArgumentException("range must rise but was " + low + " to " + high);
        }
    }

    /**
     * For the cabinet's temperatures: everything that was read, the set point with {@value
     * #ALWAYS_SHOWN_KELVIN} K to either side, and the limits that are near. A limit far off would
     * flatten the curves, so it does not count.
     */
    static ValueRange ofCabinet(
            double lowestCelsius,
            double highestCelsius,
            double setPointCelsius,
            Optional<Limits> limits) {
        double low = Double.isNaN(lowestCelsius) ? setPointCelsius : lowestCelsius;
        double high = Double.isNaN(highestCelsius) ? setPointCelsius : highestCelsius;
        if (!Double.isNaN(setPointCelsius)) {
            low = Math.min(low, setPointCelsius - ALWAYS_SHOWN_KELVIN);
            high = Math.max(high, setPointCelsius + ALWAYS_SHOWN_KELVIN);
        }
        if (Double.isNaN(low)) {
            return new ValueRange(20, 35);
        }
        double nearLow = low - LIMIT_IS_NEAR_KELVIN;
        double nearHigh = high + LIMIT_IS_NEAR_KELVIN;
        double[] near =
                limits.stream()
                        .flatMapToDouble(
                                all ->
                                        DoubleStream.of(
                                                all.tooCold().celsius(),
                                                all.tooWarm().celsius(),
                                                all.cutOff().celsius()))
                        .filter(limit -> limit >= nearLow && limit <= nearHigh)
                        .toArray();
        for (double limit : near) {
            low = Math.min(low, limit);
            high = Math.max(high, limit);
        }
        return padded(low, high, 0.5);
    }

    /** The close-up around the set point; what leaves it leaves the picture. */
    static ValueRange closeUp(double setPointCelsius) {
        return new ValueRange(setPointCelsius - CLOSE_UP_KELVIN, setPointCelsius + CLOSE_UP_KELVIN);
    }

    /** Everything that was read, at least {@code heightMin} high. */
    static ValueRange padded(double lowest, double highest, double heightMin) {
        if (Double.isNaN(lowest) || Double.isNaN(highest)) {
            return new ValueRange(0, heightMin);
        }
        double middle = (lowest + highest) / 2;
        double height = Math.max(heightMin, (highest - lowest) * (1 + 2 * MARGIN_SHARE));
        return new ValueRange(middle - height / 2, middle + height / 2);
    }

    boolean contains(double value) {
        return value >= low && value <= high;
    }

    /** A step of 1, 2 or 5 times a power of ten that gives at most {@code count} ticks. */
    double tickStep(int count) {
        double rough = (high - low) / Math.max(1, count);
        double power = Math.pow(10, Math.floor(Math.log10(rough)));
        for (double factor : new double[] {1, 2, 5}) {
            if (factor * power >= rough) {
                return factor * power;
            }
        }
        return 10 * power;
    }
}
