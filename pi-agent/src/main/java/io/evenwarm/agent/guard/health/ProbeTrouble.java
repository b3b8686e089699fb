package io.evenwarm.agent.guard.health;

/** What is wrong with a probe that gives readings which pass every check of their own. */
public enum ProbeTrouble {
    NONE,
    /** It says the same while its neighbours move. */
    FROZEN,
    /** Its error grows. */
    DRIFTING,
    /** It no longer hangs in the cabinet's air. */
    FALLEN_OUT,
    /** It sits in another one's place. */
    SWAPPED,
    /** It scatters far more than it used to. */
    NOISY
}
