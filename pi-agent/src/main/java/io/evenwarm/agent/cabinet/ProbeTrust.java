package io.evenwarm.agent.cabinet;

import java.util.Arrays;

/**
 * Which probes may be believed. A probe that is set aside may give readings that pass every check
 * of their own; the others, or its past, speak against it. Immutable; probes are known by their
 * index in the plan.
 */
public final class ProbeTrust {

    private final boolean[] isTrusted;

    private ProbeTrust(boolean[] isTrusted) {
        this.isTrusted = isTrusted;
    }

    /** All of so many probes. */
    public static ProbeTrust all(int probes) {
        boolean[] all = new boolean[probes];
        Arrays.fill(all, true);
        return new ProbeTrust(all);
    }

    /** The same with one probe believed or not. */
    public ProbeTrust with(int probe, boolean isBelieved) {
        boolean[] copy = isTrusted.clone();
        copy[probe] = isBelieved;
        return new ProbeTrust(copy);
    }

    public boolean isTrusted(int probe) {
        return isTrusted[probe];
    }
}
