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
    DRILL("drill"),
    /** The exercise is over. */
    DRILL_OVER("drill-over");

    private final String word;

    NoticeKind(String word) {
        this.word = word;
    }

    /** Whether there is something to acknowledge. */
    public boolean wantsAnswer() {
        return !isEnd();
    }

    /** Whether it is the last that is said of its event. */
    public boolean isEnd() {
        return this == ALL_CLEAR || this == DRILL_OVER;
    }

    /** Whether nothing is wrong: it is an exercise, or the end of one. */
    public boolean isExercise() {
        return this == DRILL || this == DRILL_OVER;
    }

    /** As files, messages and commands write it. */
    public String word() {
        return word;
    }
}
