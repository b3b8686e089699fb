package io.evenwarm.message;

import io.evenwarm.quantity.Temperature;

/** What a person may ask an agent to do to a cabinet. Guard and configuration may refuse. */
public sealed interface Command {

    CabinetName cabinet();

    /** Handles every case. */
    <R> R fold(Cases<R> cases);

    /**
     * What to do with each kind of command.
     *
     * @param <R> what comes of it
     */
    interface Cases<R> {

        R setSetPoint(SetSetPoint command);

        R resetCutOff(ResetCutOff command);

        R silence(Silence command);

        R startPlannedWork(StartPlannedWork command);

        R endPlannedWork(EndPlannedWork command);

        R tune(Tune command);
    }

    /** Changes the set point, and keeps it through restarts. */
    record SetSetPoint(CabinetName cabinet, Temperature setPoint) implements Command {
        @Override
        public <R> R fold(Cases<R> cases) {
            return cases.setSetPoint(this);
        }
    }

    /** Resets a tripped cut-off. */
    record ResetCutOff(CabinetName cabinet) implements Command {
        @Override
        public <R> R fold(Cases<R> cases) {
            return cases.resetCutOff(this);
        }
    }

    /** Silences the buzzer until a new finding is raised. */
    record Silence(CabinetName cabinet) implements Command {
        @Override
        public <R> R fold(Cases<R> cases) {
            return cases.silence(this);
        }
    }

    /**
     * Says that a person works at the open cabinet: what an open door does is not reported for a
     * while. A new one takes the place of the one under way.
     *
     * @param minutes until it ends by itself; the agent refuses what is outside 1 to 30
     */
    record StartPlannedWork(CabinetName cabinet, int minutes) implements Command {
        @Override
        public <R> R fold(Cases<R> cases) {
            return cases.startPlannedWork(this);
        }
    }

    /** Ends planned work before its time. */
    record EndPlannedWork(CabinetName cabinet) implements Command {
        @Override
        public <R> R fold(Cases<R> cases) {
            return cases.endPlannedWork(this);
        }
    }

    /**
     * Finds out how a cabinet answers its heater, or uses what was found.
     *
     * @param action what to do
     * @param withEggs whether a test may be run although eggs may be in the cabinet
     */
    record Tune(CabinetName cabinet, Action action, boolean withEggs) implements Command {

        /** What to do about tuning. */
        public enum Action {
            /** Begins a step test. */
            STEP,
            /** Begins a relay-feedback test. */
            RELAY,
            /** Ends a test; control goes on. */
            STOP,
            /** Takes the constants that the last test led to, until the agent is started again. */
            APPLY,
            /** Goes back to the configuration's constants. */
            REVERT
        }

        @Override
        public <R> R fold(Cases<R> cases) {
            return cases.tune(this);
        }
    }
}
