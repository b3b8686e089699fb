package io.evenwarm.monitor.evenness;

/**
 * Why there is no verdict.
 *
 * @param words what was found, where, and what to do, for a person
 */
public record Reason(Kind kind, String words) {

    public enum Kind {
        TOO_FEW_POINTS,
        TOO_SHORT,
        TOO_SPARSE,
        GAPS,
        CLOCK_OFF,
        UNITS_MIXED,
        NEVER_SETTLED,
        DISTURBED,
        POINTS_DIFFER
    }
}
