package io.evenwarm.message;

/** What a paired monitor may do at an agent. */
public enum Role {
    /** See everything, ask for nothing to be done. */
    LOOK,
    /** See everything, and give commands. */
    OPERATE
}
