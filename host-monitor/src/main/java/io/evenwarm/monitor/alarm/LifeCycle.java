package io.evenwarm.monitor.alarm;

import java.util.LinkedHashSet;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * The state table: where an alarm goes from a state by a trigger. After the state transition
 * diagram of ISA-18.2-2016 and IEC 62682 (from memory of both).
 *
 * <p>What the diagram leaves to the one who applies it is chosen so: an alarm that comes back into
 * view by the end of a shelf or of a time out of service is unacknowledged if its condition is
 * still there, even if it was acknowledged before. One that comes back because what explained it is
 * over is what it was, since nothing new happened. A latch that is reset before it is acknowledged
 * still awaits its acknowledgement.
 */
final class LifeCycle {

    private LifeCycle() {}

    /**
     * What a transition depends on beside state and trigger.
     *
     * @param isPresent whether the condition is raised
     * @param isExplained whether something else explains it
     * @param wasAcknowledged whether a person acknowledged this occurrence
     * @param needsReset whether it is latched: it occurred and was not reset since
     */
    record Circumstances(
            boolean isPresent, boolean isExplained, boolean wasAcknowledged, boolean needsReset) {}

    /** A row of the table. */
    record Transition(AlarmState from, Trigger trigger, AlarmState to) {}

    /** The state that follows; empty where the trigger means nothing in that state. */
    static Optional<AlarmState> next(AlarmState from, Trigger trigger, Circumstances now) {
        return Optional.ofNullable(
                switch (trigger) {
                    case SHELVED ->
                            from == AlarmState.SHELVED || from == AlarmState.OUT_OF_SERVICE
                                    ? null
                                    : AlarmState.SHELVED;
                    case TAKEN_OUT_OF_SERVICE ->
                            from == AlarmState.OUT_OF_SERVICE ? null : AlarmState.OUT_OF_SERVICE;
                    case SUPPRESSED ->
                            from.isSuppressed() || !now.isPresent
                                    ? null
                                    : AlarmState.SUPPRESSED_BY_DESIGN;
                    case UNSHELVED, SHELF_ENDED ->
                            from == AlarmState.SHELVED ? backInView(now, false) : null;
                    case RETURNED_TO_SERVICE ->
                            from == AlarmState.OUT_OF_SERVICE ? backInView(now, false) : null;
                    case SUPPRESSION_ENDED ->
                            from == AlarmState.SUPPRESSED_BY_DESIGN
                                            && !(now.isPresent && now.isExplained)
                                    ? backInView(now, now.wasAcknowledged)
                                    : null;
                    case PRIORITY_RAISED -> null;
                    case OCCURRED, RETURNED, ACKNOWLEDGED, RESET, RE_ALARMED ->
                            inView(from, trigger, now.needsReset);
                });
    }

    private static AlarmState backInView(Circumstances now, boolean isAcknowledged) {
        if (now.isPresent && now.isExplained) {
            return AlarmState.SUPPRESSED_BY_DESIGN;
        }
        if (now.isPresent) {
            return isAcknowledged ? AlarmState.ACKNOWLEDGED : AlarmState.UNACKNOWLEDGED;
        }
        if (now.needsReset) {
            return isAcknowledged
                    ? AlarmState.LATCHED_ACKNOWLEDGED
                    : AlarmState.LATCHED_UNACKNOWLEDGED;
        }
        return AlarmState.NORMAL;
    }

    private static @Nullable AlarmState inView(
            AlarmState from, Trigger trigger, boolean needsReset) {
        return switch (from) {
            case NORMAL -> trigger == Trigger.OCCURRED ? AlarmState.UNACKNOWLEDGED : null;
            case UNACKNOWLEDGED ->
                    switch (trigger) {
                        case ACKNOWLEDGED -> AlarmState.ACKNOWLEDGED;
                        case RETURNED ->
                                needsReset
                                        ? AlarmState.LATCHED_UNACKNOWLEDGED
                                        : AlarmState.RETURNED_UNACKNOWLEDGED;
                        default -> null;
                    };
            case ACKNOWLEDGED ->
                    switch (trigger) {
                        case RETURNED ->
                                needsReset ? AlarmState.LATCHED_ACKNOWLEDGED : AlarmState.NORMAL;
                        case RE_ALARMED -> AlarmState.UNACKNOWLEDGED;
                        default -> null;
                    };
            case RETURNED_UNACKNOWLEDGED ->
                    switch (trigger) {
                        case ACKNOWLEDGED -> AlarmState.NORMAL;
                        case OCCURRED -> AlarmState.UNACKNOWLEDGED;
                        default -> null;
                    };
            case LATCHED_UNACKNOWLEDGED ->
                    switch (trigger) {
                        case ACKNOWLEDGED -> AlarmState.LATCHED_ACKNOWLEDGED;
                        case OCCURRED -> AlarmState.UNACKNOWLEDGED;
                        case RESET -> AlarmState.RETURNED_UNACKNOWLEDGED;
                        default -> null;
                    };
            case LATCHED_ACKNOWLEDGED ->
                    switch (trigger) {
                        case RESET -> AlarmState.NORMAL;
                        case OCCURRED -> AlarmState.UNACKNOWLEDGED;
                        default -> null;
                    };
            case SHELVED, SUPPRESSED_BY_DESIGN, OUT_OF_SERVICE -> null;
        };
    }

    /** Every transition there is, whatever the circumstances. */
    static Set<Transition> transitions() {
        Set<Transition> all = new LinkedHashSet<>();
        boolean[] either = {false, true};
        for (AlarmState from : AlarmState.values()) {
            for (Trigger trigger : Trigger.values()) {
                for (boolean isPresent : either) {
                    for (boolean isExplained : either) {
                        for (boolean wasAcknowledged : either) {
                            for (boolean needsReset : either) {
                                next(
                                                from,
                                                trigger,
                                                new Circumstances(
                                                        isPresent,
                                                        isExplained,
                                                        wasAcknowledged,
                                                        needsReset))
                                        .ifPresent(
                                                to -> all.add(new Transition(from, trigger, to)));
                            }
                        }
                    }
                }
            }
        }
        return all;
    }
}
