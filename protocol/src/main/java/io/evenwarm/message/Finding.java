package io.evenwarm.message;

import java.util.Optional;

/**
 * Something that an agent found wrong, with what it rests on.
 *
 * @param code what kind of thing
 * @param probe the probe it is about, where it is about one
 * @param raisedAtNanos monotonic time since when it has held, in the agent's boot
 * @param evidence the values that it was found from, in plain words with units
 * @param action what the agent did by itself, in plain words
 * @param advice what the person should do now, in plain words
 */
public record Finding(
        FindingCode code,
        Optional<ProbeName> probe,
        long raisedAtNanos,
        String evidence,
        String action,
        String advice) {

    /**
     * Whether this and {@code other} are the same trouble, whatever their evidence of the moment.
     */
    public boolean isSameTroubleAs(Finding other) {
        return code.equals(other.code) && probe.equals(other.probe);
    }
}
