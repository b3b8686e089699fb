package io.evenwarm.agent.app;

/** What a command's end means. */
final class ExitCode {

    /** It was done, or the answer is yes. */
    static final int DONE = 0;

    /** The answer is no, or it could not be done. */
    static final int NO = 1;

    /** Bad input or usage. */
    static final int BAD_INPUT = 2;

    private ExitCode() {}
}
