package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plant.PlantFault;

/** What a scenario lets happen: to the cabinet, or to the agent itself. */
public sealed interface Mishap {

    /** Something wrong with the cabinet, its probes or its room. */
    record InCabinet(PlantFault fault) implements Mishap {}

    /**
     * No mains: neither heater nor fan runs.
     *
     * @param hasBattery whether the agent goes on; else it goes with the mains, and boots after it:
     *     with the wall clock where it stopped, and not trusted
     */
    record MainsCut(boolean hasBattery) implements Mishap {}

    /**
     * The wall clock jumps, and jumps back at the end.
     *
     * @param seconds forward, or back when below 0; −10 to 10 years
     */
    record ClockStep(double seconds) implements Mishap {

        private static final double MOST_SECONDS = 10 * 365.25 * 86_400;

        public ClockStep {
            if (!(Math.abs(seconds) <= MOST_SECONDS)) {
                throw new IllegalArgumentException(
                        "clock step must be at most 10 years either way but was " + seconds + " s");
            }
        }
    }

    /** The control thread hangs: no tick comes. The lapse timer is what is left. */
    record ControlHang() implements Mishap {}

    /**
     * The agent's process ends at once. The service manager drives its lines off, and starts it
     * again, with nothing but its notes.
     *
     * @param restartSeconds how long after; 0 to 1 day
     */
    record AgentCrash(double restartSeconds) implements Mishap {
        public AgentCrash {
            if (!(restartSeconds >= 0 && restartSeconds <= 86_400)) {
                throw new IllegalArgumentException(
                        "restart must be after 0 to 86400 s but was " + restartSeconds);
            }
        }
    }

    /**
     * The agent is started again with a tuning that was meant for a solid-state relay: its windows
     * are so short that the mechanical relay chatters.
     *
     * @param windowSeconds period of the time-proportioned output, 2 to 60 s
     */
    record RelayChatter(double windowSeconds) implements Mishap {
        public RelayChatter {
            if (!(windowSeconds >= 2 && windowSeconds <= 60)) {
                throw new IllegalArgumentException(
                        "window must be 2 to 60 s but was " + windowSeconds);
            }
        }
    }

    /** Neither notes nor journal can be written. */
    record DiskFull() implements Mishap {}

    /** No monitor hears of it. */
    record LinkLost() implements Mishap {}
}
