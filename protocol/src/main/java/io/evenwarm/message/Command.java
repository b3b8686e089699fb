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
            Function<EndPlannedWork, R> endPlannedWork);

    /** Changes the set point, and keeps it through restarts. */
    record SetSetPoint(CabinetName cabinet, Temperature setPoint) implements Command {
        @Override
        public <R> R fold(
                Function<SetSetPoint, R> setSetPoint,
                Function<ResetCutOff, R> resetCutOff,
                Function<Silence, R> silence,
                Function<StartPlannedWork, R> startPlannedWork,
                Function<EndPlannedWork, R> endPlannedWork) {
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
                Function<EndPlannedWork, R> endPlannedWork) {
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
                Function<EndPlannedWork, R> endPlannedWork) {
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
                Function<EndPlannedWork, R> endPlannedWork) {
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
                Function<EndPlannedWork, R> endPlannedWork) {
            return endPlannedWork.apply(this);
        }
    }
}
