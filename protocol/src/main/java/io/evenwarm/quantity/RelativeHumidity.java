package io.evenwarm.quantity;

import java.util.function.Function;

/**
 * Relative humidity over water.
 *
 * @param percent 0 to 100 %
 */
public record RelativeHumidity(double percent) implements Quantity {

    public RelativeHumidity {
        if (!(percent >= 0 && percent <= 100)) {
            throw new IllegalArgumentException(
                    "relative humidity must be 0 to 100 % but was " + percent);
        }
    }

    public static RelativeHumidity ofPercent(double percent) {
        return new RelativeHumidity(percent);
    }

    @Override
    public <R> R fold(
            Function<Temperature, R> temperature, Function<RelativeHumidity, R> humidity) {
        return humidity.apply(this);
    }
}
