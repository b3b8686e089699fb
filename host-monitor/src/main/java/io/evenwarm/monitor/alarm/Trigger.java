package io.evenwarm.monitor.alarm;

/** What moves an alarm from one state to another. */
public enum Trigger {
    /** The condition came, its on-delay over. */
    OCCURRED("the condition occurred"),
    /** The condition went, its off-delay over. */
    RETURNED("the condition returned to normal"),
    ACKNOWLEDGED("acknowledged"),
    /** A person has looked, and ends a latch. */
    RESET("reset"),
    /** Acknowledged and still there after the re-alarm time, or the eggs have less time by now. */
    RE_ALARMED("re-alarmed"),
    SHELVED("shelved"),
    UNSHELVED("unshelved"),
    SHELF_ENDED("shelving ended"),
    /** Something else explains it. */
    SUPPRESSED("suppressed by design"),
    SUPPRESSION_ENDED("suppression ended"),
    TAKEN_OUT_OF_SERVICE("taken out of service"),
    RETURNED_TO_SERVICE("returned to service"),
    /** No transition: an unacknowledged alarm whose priority rose. */
    PRIORITY_RAISED("priority raised");

    private final String words;

    Trigger(String words) {
        this.words = words;
    }

    /** In plain words. */
    public String words() {
        return words;
    }
}
