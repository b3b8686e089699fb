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
            Function<Silence, R> silence);

    /** Changes the set point, and keeps it through restarts. */
    record SetSetPoint(CabinetName cabinet, Temperature setPoint) implements Command {
        @Override
        public <R> R fold(
                Function<SetSetPoint, R> setSetPoint,
                Function<ResetCutOff, R> resetCutOff,
                Function<Silence, R> silence) {
            return setSetPoint.apply(this);
        }
    }

    /** Resets a tripped cut-off. */
    record ResetCutOff(CabinetName cabinet) implements Command {
        @Override
        public <R> R fold(
                Function<SetSetPoint, R> setSetPoint,
                Function<ResetCutOff, R> resetCutOff,
                Function<Silence, R> silence) {
            return resetCutOff.apply(this);
        }
    }

    /** Silences the buzzer until a new finding is raised. */
    record Silence(CabinetName cabinet) implements Command {
        @Override
        public <R> R fold(
                Function<SetSetPoint, R> setSetPoint,
                Function<ResetCutOff, R> resetCutOff,
                Function<Silence, R> silence) {
            return silence.apply(this);
        }
    }
}
