package io.evenwarm.agent.guard;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What a cabinet and its agent tell in a tick beside probes and lines that fail.
 *
 * @param wasCutOffRelayClosed whether current could flow through the cut-off relay since the last
 *     tick; true where none is fitted
 * @param wasFanOn whether the fan was driven since the last tick; true where the agent drives none,
 *     because it then runs by itself
 * @param isDoorOpen empty when no door switch is fitted or it can't be read
 * @param fanTurnsPerMinute empty when no tachometer is fitted or it can't be read
 * @param isPlannedWork whether a person said that they work at the cabinet now
 * @param isHeatTried whether a tuning test, begun by a person, changes the heat on purpose now
 * @param isWallClockTrusted whether something outside has set the wall clock since the boot
 * @param wallJumpSeconds by how much the wall clock ran ahead of the monotonic one since the last
 *     tick; 0 when it keeps time
 * @param wasMachineOff whether the machine was off before this start though nobody had ended the
 *     agent: the mains were gone
 * @param offSeconds for how long, as far as a trusted clock tells; empty while nobody knows
 */
public record Signs(
        boolean wasCutOffRelayClosed,
        boolean wasFanOn,
        Optional<Boolean> isDoorOpen,
        OptionalDouble fanTurnsPerMinute,
        boolean isPlannedWork,
        boolean isHeatTried,
        boolean isWallClockTrusted,
        double wallJumpSeconds,
        boolean wasMachineOff,
        OptionalDouble offSeconds) {

    /** Nothing but probes is fitted, and all is as it should be. */
    public static final Signs QUIET =
            new Signs(
                    true,
                    true,
                    Optional.empty(),
                    OptionalDouble.empty(),
                    false,
                    false,
                    true,
                    0,
                    false,
                    OptionalDouble.empty());
}
