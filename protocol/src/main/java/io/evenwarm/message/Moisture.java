package io.evenwarm.message;

import io.evenwarm.quantity.Temperature;
import java.util.Optional;

/**
 * The moisture of a cabinet's air, and what the agent does about it.
 *
 * @param humidityPercent mean of the good hygrometers; 0 to 100 %
 * @param dewPoint below which water condenses; empty where no good air temperature belongs to the
 *     humidity
 * @param humidifierOn whether the humidifier is driven; empty when the agent drives none
 * @param ventOn whether the vent is; empty when the agent drives none
 */
public record Moisture(
        Optional<Double> humidityPercent,
        Optional<Temperature> dewPoint,
        Optional<Boolean> humidifierOn,
        Optional<Boolean> ventOn) {}
