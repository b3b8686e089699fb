package io.evenwarm.message;

/** What the guard allows in one cabinet at a moment. */
public enum GuardState {
    /** Nothing has been judged since the start: heat is off. */
    STARTING("starting, heat off"),
    /** Heat is allowed when control wants it. */
    ALLOWING("heat allowed"),
    /** Heat is held back for now and comes back by itself when its cause goes. */
    HOLDING("heat held back"),
    /** The hard cut-off has tripped: heat is off until a person resets it. */
    TRIPPED("cut off, needs a person");

    private final String words;

    GuardState(String words) {
        this.words = words;
    }

    /** In plain words. */
    public String words() {
        return words;
    }
}
