package io.evenwarm.message;

import io.evenwarm.quantity.Temperature;
import java.util.function.Function;

/** What a person may ask an agent to do to a cabinet. Guard and configuration may refuse. */
public sealed interface Command {

    CabinetName cabinet();

    /** Handles every case. */
    <R> R fold(
            Function<SetSetPoint, R> setSetPoint,
            Function<ResetCutOff, R> resetCutOff,
            Function<Silence, R> silence,
            Function<StartPlannedWork, R> startPlannedWork,
            Function<EndPlannedWork, R> endPlannedWork,
            Function<Tune, R> tune);

    /** Changes the set point, and keeps it through restarts. */
    record SetSetPoint(CabinetName cabinet, Temperature setPoint) implements Command {
        @Override
        public <R> R fold(
                Function<SetSetPoint, R> setSetPoint,
                Function<ResetCutOff, R> resetCutOff,
                Function<Silence, R> silence,
                Function<StartPlannedWork, R> startPlannedWork,
                Function<EndPlannedWork, R> endPlannedWork,
                Function<Tune, R> tune) {
            return setSetPoint.apply(this);
        }
    }

    /** Resets a tripped cut-off. */
    record ResetCutOff(CabinetName cabinet) implements Command {
        @Override
        public <R> R fold(
                Function<SetSetPoint, R> setSetPoint,
                Function<ResetCutOff, R> resetCutOff,
                Function<Silence, R> silence,
                Function<StartPlannedWork, R> startPlannedWork,
                Function<EndPlannedWork, R> endPlannedWork,
                Function<Tune, R> tune) {
            return resetCutOff.apply(this);
        }
    }

    /** Silences the buzzer until a new finding is raised. */
    record Silence(CabinetName cabinet) implements Command {
        @Override
        public <R> R fold(
                Function<SetSetPoint, R> setSetPoint,
                Function<ResetCutOff, R> resetCutOff,
                Function<Silence, R> silence,
                Function<StartPlannedWork, R> startPlannedWork,
                Function<EndPlannedWork, R> endPlannedWork,
                Function<Tune, R> tune) {
            return silence.apply(this);
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
        public <R> R fold(
                Function<SetSetPoint, R> setSetPoint,
                Function<ResetCutOff, R> resetCutOff,
                Function<Silence, R> silence,
                Function<StartPlannedWork, R> startPlannedWork,
                Function<EndPlannedWork, R> endPlannedWork,
                Function<Tune, R> tune) {
            return startPlannedWork.apply(this);
        }
    }

    /** Ends planned work before its time. */
    record EndPlannedWork(CabinetName cabinet) implements Command {
        @Override
        public <R> R fold(
                Function<SetSetPoint, R> setSetPoint,
                Function<ResetCutOff, R> resetCutOff,
                Function<Silence, R> silence,
                Function<StartPlannedWork, R> startPlannedWork,
                Function<EndPlannedWork, R> endPlannedWork,
                Function<Tune, R> tune) {
            return endPlannedWork.apply(this);
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
        public <R> R fold(
                Function<SetSetPoint, R> setSetPoint,
                Function<ResetCutOff, R> resetCutOff,
                Function<Silence, R> silence,
                Function<StartPlannedWork, R> startPlannedWork,
                Function<EndPlannedWork, R> endPlannedWork,
                Function<Tune, R> tune) {
            return tune.apply(this);
        }
    }
}
