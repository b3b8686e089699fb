package io.evenwarm.monitor.notice;

/**
 * How soon a person must act, the least first: three priorities, as ISA-18.2 advises (from memory).
 */
public enum NoticePriority {
    /** Look at it today. */
    LOW("low", "Look"),
    /** Act within the hour. */
    MEDIUM("medium", "Act soon"),
    /** Act now, at night too. */
    HIGH("high", "ACT NOW");

    private final String word;
    private final String call;

    NoticePriority(String word, String call) {
        this.word = word;
        this.call = call;
    }

    /** As files, messages and commands write it. */
    public String word() {
        return word;
    }

    /** What it asks of a person. */
    public String call() {
        return call;
    }

    /** Whether it is at least as urgent as {@code other}. */
    public boolean isAtLeast(NoticePriority other) {
        return compareTo(other) >= 0;
    }
}
