package io.evenwarm.monitor.intake;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.clock.WallClock;
import io.evenwarm.monitor.history.HistoryWriter;
import io.evenwarm.monitor.live.LiveModel;

/**
 * What intake works with.
 *
 * @param monitorName what this monitor calls itself to agents
 * @param program name and version of this program
 * @param history where journals go
 * @param live where snapshots and the state of links go
 * @param clock measures waits
 * @param wall what agents are told that ask for the time
 * @param seed of the jitter that keeps monitors from knocking all at once
 */
public record IntakeContext(
        String monitorName,
        String program,
        HistoryWriter history,
        LiveModel live,
        MonotonicClock clock,
        WallClock wall,
        long seed) {

    /** With the machine's own wall clock. */
    public IntakeContext(
            String monitorName,
            String program,
            HistoryWriter history,
            LiveModel live,
            MonotonicClock clock,
            long seed) {
        this(monitorName, program, history, live, clock, SystemClock.wall(), seed);
    }
}
