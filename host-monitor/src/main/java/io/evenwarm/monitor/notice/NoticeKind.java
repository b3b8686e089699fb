package io.evenwarm.monitor.notice;

/** What a notice is in the course of its event. */
public enum NoticeKind {
    /** The first that is said of an event. */
    FIRST("first"),
    /** Something about the event changed, or nobody acknowledged it yet. */
    FOLLOW_UP("follow-up"),
    /** The event is over. */
    ALL_CLEAR("all-clear"),
    /** An exercise: nothing is wrong. */
    DRILL("drill");

    private final String word;

    NoticeKind(String word) {
        this.word = word;
    }

    /** Whether there is something to acknowledge. */
    public boolean wantsAnswer() {
        return this != ALL_CLEAR;
    }

    /** As files, messages and commands write it. */
    public String word() {
        return word;
    }
}
