package io.evenwarm.quantity;

import java.util.function.Function;

/** What a probe can measure. */
public sealed interface Quantity permits Temperature, RelativeHumidity {

    /** Handles every case; a new kind of quantity breaks the compile here and not at run time. */
    <R> R fold(Function<Temperature, R> temperature, Function<RelativeHumidity, R> humidity);
}
