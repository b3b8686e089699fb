package io.evenwarm.agent.rehearsal;

/**
 * Something that a keeper does in a sound cabinet: the door is open for a while.
 *
 * @param atSeconds when, s from the scenario's start
 * @param forSeconds for how long the door is open; above 0
 * @param freshShare share of the tubs that is exchanged for tubs as cold as the room, 0 to 1; above
 *     0 it is a reloading
 * @param isAnnounced whether the keeper told the agent beforehand
 */
public record Everyday(
        double atSeconds, double forSeconds, double freshShare, boolean isAnnounced) {

    public Everyday {
        if (!(forSeconds > 0) || !(freshShare >= 0 && freshShare <= 1)) {
            throw new IllegalArgumentException(
                    "a door must be open for above 0 s and 0 to 1 of the tubs exchanged but were "
                            + forSeconds
                            + " s and "
                            + freshShare);
        }
    }

    /** A look inside. */
    static Everyday look(double atSeconds, double forSeconds) {
        return new Everyday(atSeconds, forSeconds, 0, false);
    }

    double untilSeconds() {
        return atSeconds + forSeconds;
    }
}
