package io.evenwarm.monitor.alarm;

/** The states of an alarm, by the names of ISA-18.2 and IEC 62682. */
public enum AlarmState {
    NORMAL("normal"),
    UNACKNOWLEDGED("unacknowledged"),
    ACKNOWLEDGED("acknowledged"),
    RETURNED_UNACKNOWLEDGED("return-to-normal unacknowledged"),
    LATCHED_UNACKNOWLEDGED("latched unacknowledged"),
    LATCHED_ACKNOWLEDGED("latched acknowledged"),
    SHELVED("shelved"),
    SUPPRESSED_BY_DESIGN("suppressed by design"),
    OUT_OF_SERVICE("out of service");

    private final String words;

    AlarmState(String words) {
        this.words = words;
    }

    /** The standard's name. */
    public String words() {
        return words;
    }

    /**
     * The state of that name.
     *
     * @throws IllegalArgumentException where the standard has none of that name
     */
    public static AlarmState ofWords(String words) {
        for (AlarmState state : values()) {
            if (state.words.equals(words)) {
                return state;
            }
        }
        throw new IllegalArgumentException("no state of an alarm: \"" + words + "\"");
    }

    /** Whether a person still has to say that it was seen. */
    public boolean awaitsAcknowledgement() {
        return this == UNACKNOWLEDGED
                || this == RETURNED_UNACKNOWLEDGED
                || this == LATCHED_UNACKNOWLEDGED;
    }

    /** Whether it is kept from people: by one of them, or because something else explains it. */
    public boolean isSuppressed() {
        return this == SHELVED || this == SUPPRESSED_BY_DESIGN || this == OUT_OF_SERVICE;
    }
}
