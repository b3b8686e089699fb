package io.evenwarm.agent.app;

import io.evenwarm.agent.plant.CabinetBuild;
import io.evenwarm.settings.NumberRange;
import io.evenwarm.settings.TomlSection;
import java.util.Optional;

/** Reads {@code [cabinet.simulated]}. */
final class SimulatedCabinetReader {

    private static final double USUAL_VOLUME_LITRES = 250;
    private static final double USUAL_WALL_WATTS_PER_SQUARE_METRE_KELVIN = 1;
    private static final double USUAL_HEATER_FACTOR = 3;

    private SimulatedCabinetReader() {}

    /**
     * What the simulated cabinet is made of; what is not said follows from its volume.
     *
     * @param cabinet the cabinet's table, for faults
     * @param section the table, when there is one
     */
    static Optional<CabinetBuild> read(TomlSection cabinet, Optional<TomlSection> section) {
        if (section.isEmpty()) {
            return cabinet.has("simulated")
                    ? Optional.empty()
                    : Optional.of(usual(USUAL_VOLUME_LITRES));
        }
        double start =
                section.get()
                        .number(
                                "start_celsius",
                                NumberRange.of(-30, 60, "°C"),
                                usual(USUAL_VOLUME_LITRES).startCelsius());
        return read(section.get()).map(build -> build.withStart(start));
    }

    /** The same from keys that stand in any table, but for the start. */
    static Optional<CabinetBuild> read(TomlSection there) {
        double volume =
                there.number("volume_litres", NumberRange.of(20, 2000, "L"), USUAL_VOLUME_LITRES);
        CabinetBuild usual = usual(volume);
        double loss =
                there.number(
                        "heat_loss_watts_per_kelvin",
                        NumberRange.of(0.01, 100, "W/K"),
                        usual.heatLossWattsPerKelvin());
        double heater =
                there.number("heater_watts", NumberRange.of(0.1, 5000, "W"), usual.heaterWatts());
        double fan = there.number("fan_watts", NumberRange.of(0, 100, "W"), usual.fanWatts());
        int tubs = there.whole("tubs", 0, 1000, "").orElse(usual.tubs());
        double tubKilograms =
                there.number("tub_kilograms", NumberRange.of(0.01, 20, "kg"), usual.tubKilograms());
        double ambient =
                there.number(
                        "ambient_celsius", NumberRange.of(-30, 50, "°C"), usual.ambientCelsius());
        double swing =
                there.number(
                        "ambient_swing_kelvin",
                        NumberRange.of(0, 20, "K"),
                        usual.ambientSwingKelvin());
        double noise = there.number("noise_kelvin", NumberRange.of(0, 1, "K"), usual.noiseKelvin());
        try {
            return Optional.of(
                    new CabinetBuild(
                            volume,
                            loss,
                            heater,
                            fan,
                            tubs,
                            tubKilograms,
                            ambient,
                            swing,
                            usual.startCelsius(),
                            noise));
        } catch (IllegalArgumentException e) {
            // Only the heat loss's upper limit is left: it depends on the walls' area.
            there.fault("heat_loss_watts_per_kelvin", String.valueOf(e.getMessage()));
            return Optional.empty();
        }
    }

    private static CabinetBuild usual(double volumeLitres) {
        return CabinetBuild.ofVolume(
                volumeLitres, USUAL_WALL_WATTS_PER_SQUARE_METRE_KELVIN, USUAL_HEATER_FACTOR);
    }
}
