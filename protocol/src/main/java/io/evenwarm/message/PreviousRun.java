package io.evenwarm.message;

import java.util.Optional;

/**
 * How the agent's run before this one ended.
 *
 * @param ending how
 * @param lastAlive the last moment at which it is known to have lived, on its own clocks; empty
 *     when nothing tells
 */
public record PreviousRun(Ending ending, Optional<Moment> lastAlive) {

    /** Ways to end. */
    public enum Ending {
        /** Somebody ended it. */
        ORDERLY,
        /** It died, and the machine ran on. */
        CRASH,
        /** The machine went off or started anew under it. */
        POWER_LOSS,
        /** It did not end in order, and nothing tells why. */
        UNKNOWN;

        /** What happened, for a person. */
        public String words() {
            return switch (this) {
                case ORDERLY -> "ended in order";
                case CRASH -> "the agent died, the machine ran on";
                case POWER_LOSS -> "the power failed";
                case UNKNOWN -> "not ended in order, nobody knows why";
            };
        }
    }
}
