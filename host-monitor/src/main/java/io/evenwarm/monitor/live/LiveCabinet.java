package io.evenwarm.monitor.live;

import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.monitor.history.CabinetKey;
import java.time.Duration;

/**
 * One cabinet as the monitor knows it now.
 *
 * @param snapshot the newest one
 * @param liveness whether it is still true
 * @param sinceReceived time since it came, in the monitor's own seconds
 * @param clockRate how many of the agent's seconds pass in one of the monitor's; above 1 in a fast
 *     simulation
 */
public record LiveCabinet(
        CabinetKey key,
        CabinetSnapshot snapshot,
        Liveness liveness,
        Duration sinceReceived,
        double clockRate) {}
