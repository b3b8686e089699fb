package io.evenwarm.agent.app;

import io.evenwarm.agent.plan.FallbackPlan;
import io.evenwarm.message.Limits;
import io.evenwarm.settings.NumberRange;
import io.evenwarm.settings.TomlSection;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;

/** Reads {@code [cabinet.fallback]}: heat at a fixed duty while no air probe is good. */
final class FallbackReader {

    /** The steady temperature must stay this far below the cut-off. */
    private static final double DISTANCE_KELVIN = 1;

    private FallbackReader() {}

    /** Empty when there is none, or when a fault was added. */
    static Optional<FallbackPlan> read(TomlSection cabinet, Optional<Limits> limits) {
        Optional<TomlSection> there = cabinet.section("fallback");
        if (there.isEmpty()) {
            return Optional.empty();
        }
        TomlSection section = there.get();
        OptionalDouble duty = section.requiredNumber("duty", NumberRange.above(0, 1, ""));
        OptionalDouble watts =
                section.requiredNumber("heater_watts", NumberRange.above(0, 5000, "W"));
        OptionalDouble loss =
                section.requiredNumber(
                        "heat_loss_watts_per_kelvin", NumberRange.above(0, 500, "W/K"));
        OptionalDouble room =
                section.requiredNumber("warmest_room_celsius", NumberRange.of(0, 45, "°C"));
        if (duty.isEmpty() || watts.isEmpty() || loss.isEmpty() || room.isEmpty()) {
            return Optional.empty();
        }
        FallbackPlan plan =
                new FallbackPlan(
                        duty.getAsDouble(),
                        watts.getAsDouble(),
                        loss.getAsDouble(),
                        room.getAsDouble());
        if (limits.isEmpty()) {
            return Optional.of(plan);
        }
        double limit = limits.get().cutOff().celsius() - DISTANCE_KELVIN;
        double most = plan.mostDuty(limit, plan.warmestRoomCelsius());
        if (plan.duty() <= most) {
            return Optional.of(plan);
        }
        double steady =
                plan.warmestRoomCelsius()
                        + plan.duty() * plan.heaterWatts() / plan.heatLossWattsPerKelvin();
        section.faultWithFound(
                "duty",
                String.format(
                        Locale.ROOT,
                        "%s, which heats to %.1f °C in a room of %s °C",
                        NumberRange.plain(plan.duty()),
                        steady,
                        NumberRange.plain(plan.warmestRoomCelsius())),
                String.format(
                        Locale.ROOT,
                        "at most %.3f: no more than %s °C, 1 K below the cut-off",
                        Math.floor(most * 1000) / 1000,
                        NumberRange.plain(limit)));
        return Optional.empty();
    }
}
