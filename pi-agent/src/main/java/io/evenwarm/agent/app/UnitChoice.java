package io.evenwarm.agent.app;

import io.evenwarm.quantity.TemperatureUnit;
import picocli.CommandLine.Option;

/** In which unit a person wants to see temperatures. */
final class UnitChoice {

    @Option(
            names = "--unit",
            defaultValue = "CELSIUS",
            paramLabel = "UNIT",
            description = "celsius (usual) or fahrenheit")
    private TemperatureUnit unit;

    TemperatureUnit unit() {
        return unit;
    }
}
