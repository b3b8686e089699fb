package io.evenwarm.monitor.store;

import java.util.List;

/**
 * What a check of a store found.
 *
 * @param words the first faults, for a person: what, where, expected, found
 * @param faults how many there are in all
 * @param readings how many values were compared: readings, set points and heater shares
 * @param stretches how many stretches of the tiers were compared
 */
public record StoreReport(List<String> words, long faults, long readings, long stretches) {

    public StoreReport {
        words = List.copyOf(words);
    }

    public boolean isSound() {
        return faults == 0;
    }
}
