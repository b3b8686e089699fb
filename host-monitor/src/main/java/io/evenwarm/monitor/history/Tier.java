package io.evenwarm.monitor.history;

import java.util.List;
import java.util.Optional;

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

    /** Those there are, the finest first. */
    public static List<Tier> all() {
        return List.of(values());
    }

    /** The tier that this one is made from; empty for the finest, which is made from readings. */
    public Optional<Tier> finer() {
        int index = all().indexOf(this);
        return index == 0 ? Optional.empty() : Optional.of(all().get(index - 1));
    }

    /** Begin of the stretch that a time lies in, in milliseconds since the epoch. */
    public long beginMillis(long epochMillis) {
        return epochMillis - Math.floorMod(epochMillis, stepMillis());
    }
}
