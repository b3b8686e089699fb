package io.evenwarm.message;

import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** One entry of an agent's journal, as kept there and as sent to a monitor. */
public sealed interface JournalRecord {

    /** Rises by one from entry to entry over all cabinets and boots of one journal; from 1. */
    long sequence();

    /** When it happened. */
    Moment moment();

    /** The cabinet it is about; empty when it is about the agent itself. */
    Optional<CabinetName> subject();

    /** Handles every case. */
    <R> R fold(Function<Readings, R> readings, Function<Event, R> event);

    /**
     * The state of one cabinet at a moment.
     *
     * @param heaterOnFraction share of the time since the previous entry of this cabinet that the
     *     heater was energised
     */
    record Readings(
            long sequence,
            Moment moment,
            CabinetName cabinet,
            List<ProbeReading> probes,
            Temperature setPoint,
            Limits limits,
            Duty duty,
            double heaterOnFraction,
            GuardState guard)
            implements JournalRecord {

        public Readings {
            probes = List.copyOf(probes);
            if (!(heaterOnFraction >= 0 && heaterOnFraction <= 1)) {
                throw new IllegalArgumentException(
                        "heater-on share must be 0 to 1 but was " + heaterOnFraction);
            }
        }

        @Override
        public Optional<CabinetName> subject() {
            return Optional.of(cabinet);
        }

        @Override
        public <R> R fold(Function<Readings, R> readings, Function<Event, R> event) {
            return readings.apply(this);
        }
    }

    /**
     * Something that happened.
     *
     * @param kind what
     * @param finding the finding that was raised or cleared, for those two kinds
     * @param words what happened, in plain words
     * @param previousRun how the run before ended, for {@link Kind#AGENT_STARTED}; empty at the
     *     very first start
     */
    record Event(
            long sequence,
            Moment moment,
            Optional<CabinetName> subject,
            Kind kind,
            Optional<Finding> finding,
            String words,
            Optional<PreviousRun> previousRun)
            implements JournalRecord {

        /** One that tells of no run before. */
        public Event(
                long sequence,
                Moment moment,
                Optional<CabinetName> subject,
                Kind kind,
                Optional<Finding> finding,
                String words) {
            this(sequence, moment, subject, kind, finding, words, Optional.empty());
        }

        @Override
        public <R> R fold(Function<Readings, R> readings, Function<Event, R> event) {
            return event.apply(this);
        }

        /** Kinds of event. */
        public enum Kind {
            AGENT_STARTED,
            AGENT_STOPPED,
            FINDING_RAISED,
            FINDING_CLEARED,
            CUT_OFF_RESET,
            SET_POINT_CHANGED,
            SILENCED,
            WORK_BEGUN,
            WORK_ENDED,
            TUNING_BEGUN,
            TUNING_ENDED
        }
    }
}
