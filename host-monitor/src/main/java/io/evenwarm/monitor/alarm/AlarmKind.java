package io.evenwarm.monitor.alarm;

import io.evenwarm.message.FindingCode;
import java.time.Duration;
import java.util.Optional;
import java.util.Set;

/**
 * How alarms of one code behave.
 *
 * @param danger which way it endangers the eggs: says which time left counts
 * @param least its priority where no time left is known, and never less than this
 * @param isLatching whether a person must look before it is over
 * @param reach what it is about, and how far one cause of it reaches
 * @param explainedBy what else, while it is there, makes this one say nothing new: of the same
 *     cabinet or its agent; for an alarm of an agent, of any of its cabinets
 * @param isExplainedByDoor whether planned work and an open door explain it
 * @param comesWith what has the same cause without saying the same
 * @param isOnlyHowCold whether it says no more than how cold it is, and not that heat is gone
 * @param showsLostPower whether a cabinet without power is found by it, each by what shows first
 */
record AlarmKind(
        FindingCode code,
        Danger danger,
        Priority least,
        boolean isLatching,
        Reach reach,
        Set<FindingCode> explainedBy,
        boolean isExplainedByDoor,
        Set<FindingCode> comesWith,
        boolean isOnlyHowCold,
        boolean showsLostPower) {

    /** Which way the eggs are in danger. */
    enum Danger {
        /** By itself in none. */
        NONE,
        COLD,
        HEAT,
        /** Heat or cold, whichever is nearer. */
        EITHER;

        Optional<Duration> timeLeft(TimeLeft.Estimate estimate) {
            return switch (this) {
                case NONE -> Optional.empty();
                case COLD -> estimate.toCold();
                case HEAT -> estimate.toHeat();
                case EITHER -> estimate.toEither();
            };
        }
    }

    /** What an alarm is about, and how far one cause of it reaches. */
    enum Reach {
        /** A cabinet; one cause may touch several of an agent. */
        CABINET,
        /** A cabinet or an agent; one cause may touch the whole house. */
        HOUSE,
        /** The agent, whichever of its cabinets tells it. */
        AGENT,
        /** The monitor. */
        MONITOR
    }

    /** What tells of silence or of an exercise, or of what people do, is over when it is over. */
    private static final Set<FindingCode> NEVER_HELD =
            Set.of(
                    AlarmCodes.AGENT_SILENT,
                    AlarmCodes.CABINET_STALE,
                    AlarmCodes.DRILL,
                    FindingCode.DOOR_OPEN,
                    FindingCode.MAINS_RETURNED);

    /**
     * Whether the same alarm, a while later, is the same trouble that nobody has mended. One that
     * latches is not: a person looks each time.
     */
    boolean mayComeAndGo() {
        return reach == Reach.CABINET && !isLatching && !NEVER_HELD.contains(code);
    }

    AlarmKind {
        explainedBy = Set.copyOf(explainedBy);
        comesWith = Set.copyOf(comesWith);
    }
}
