package io.evenwarm.monitor.history;

/**
 * How coarsely readings are summed up. Stretches are counted from the epoch, in UTC: those of a
 * finer tier fill those of the next one exactly, so each tier can be made from the one before.
 */
public enum Tier {
    MINUTE(60),
    TEN_MINUTES(600),
    HOUR(3_600),
    SIX_HOURS(21_600);

    private final int stepSeconds;

    Tier(int stepSeconds) {
        this.stepSeconds = stepSeconds;
    }

    /** Length of one stretch, in seconds. */
    public int stepSeconds() {
        return stepSeconds;
    }

    /** Length of one stretch, in milliseconds. */
    public long stepMillis() {
        return stepSeconds * 1000L;
    }

    /** Begin of the stretch that a time lies in, in milliseconds since the epoch. */
    public long beginMillis(long epochMillis) {
        return epochMillis - Math.floorMod(epochMillis, stepMillis());
    }
}
