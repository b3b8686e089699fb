package io.evenwarm.agent.app;

import io.evenwarm.agent.plan.ControlPlan;
import io.evenwarm.settings.NumberRange;
import io.evenwarm.settings.TomlSection;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/** Reads {@code [cabinet.control]}. */
final class ControlReader {

    private static final String MECHANICAL = "mechanical";
    private static final String SOLID_STATE = "solid-state";
    private static final int MOST_OPERATIONS = 100_000_000;

    private ControlReader() {}

    /** The plan; the defaults where there is no table; empty when faults were added. */
    static Optional<ControlPlan> read(Optional<TomlSection> there) {
        if (there.isEmpty()) {
            return Optional.of(ControlPlan.defaults());
        }
        TomlSection control = there.get();
        boolean isSolidState =
                control.word("relay", List.of(MECHANICAL, SOLID_STATE))
                        .equals(Optional.of(SOLID_STATE));
        ControlPlan usual =
                isSolidState ? ControlPlan.solidStateDefaults() : ControlPlan.defaults();
        NumberRange times = NumberRange.of(0, 3600, "s");
        double windowSeconds =
                control.number(
                        "window_seconds", NumberRange.of(2, 3600, "s"), usual.windowSeconds());
        double onSeconds = control.number("minimum_on_seconds", times, usual.minimumOnSeconds());
        double offSeconds = control.number("minimum_off_seconds", times, usual.minimumOffSeconds());
        double gain =
                control.number(
                        "gain_per_kelvin", NumberRange.above(0, 10, "1/K"), usual.gainPerKelvin());
        double integral =
                control.number(
                        "integral_seconds",
                        NumberRange.above(0, 100_000, "s"),
                        usual.integralSeconds());
        double derivative =
                control.number(
                        "derivative_seconds",
                        NumberRange.of(0, 10_000, "s"),
                        usual.derivativeSeconds());
        double weight =
                control.number(
                        "set_point_weight", NumberRange.of(0, 1, ""), usual.setPointWeight());
        boolean follows = control.flag("gain_follows_duty", usual.gainFollowsDuty());
        OptionalInt rated = control.whole("rated_operations", 1000, MOST_OPERATIONS, "operations");
        if (!isWindowAllowed(control, isSolidState, windowSeconds, onSeconds, offSeconds)) {
            return Optional.empty();
        }
        return Optional.of(
                new ControlPlan(
                        gain,
                        integral,
                        derivative,
                        weight,
                        windowSeconds,
                        onSeconds,
                        offSeconds,
                        follows,
                        usual.relay(),
                        rated.orElse(ControlPlan.USUAL_RATED_OPERATIONS)));
    }

    private static boolean isWindowAllowed(
            TomlSection control,
            boolean isSolidState,
            double windowSeconds,
            double onSeconds,
            double offSeconds) {
        double shortest = ControlPlan.shortestMechanicalWindowSeconds();
        if (!isSolidState && windowSeconds < shortest) {
            control.faultWithFound(
                    "window_seconds",
                    NumberRange.plain(windowSeconds) + " s with a mechanical relay",
                    NumberRange.plain(shortest)
                            + " s or more: it switches once in each window, and more than "
                            + ControlPlan.DAILY_OPERATIONS
                            + " operations a day wear it out within a few clutches; a solid-state"
                            + " relay (relay = \"solid-state\") may have a shorter one");
            return false;
        }
        if (onSeconds + offSeconds > windowSeconds) {
            control.faultWithFound(
                    "window_seconds",
                    NumberRange.plain(windowSeconds)
                            + " s with minimum times of "
                            + NumberRange.plain(onSeconds)
                            + " s on and "
                            + NumberRange.plain(offSeconds)
                            + " s off",
                    "a window that holds both minimum times");
            return false;
        }
        return true;
    }
}
