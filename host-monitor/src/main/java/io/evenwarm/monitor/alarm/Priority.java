package io.evenwarm.monitor.alarm;

/**
 * How soon a person must act, by the three levels of IEC 62682 (from memory). Ordered: a later one
 * is more pressing.
 */
public enum Priority {
    LOW("low"),
    MEDIUM("medium"),
    HIGH("high");

    private final String words;

    Priority(String words) {
        this.words = words;
    }

    /** The standard's word. */
    public String words() {
        return words;
    }

    /**
     * The priority of that word.
     *
     * @throws IllegalArgumentException where there is none
     */
    public static Priority ofWords(String words) {
        for (Priority priority : values()) {
            if (priority.words.equals(words)) {
                return priority;
            }
        }
        throw new IllegalArgumentException("no priority of an alarm: \"" + words + "\"");
    }

    static Priority higherOf(Priority one, Priority other) {
        return one.compareTo(other) >= 0 ? one : other;
    }
}
