package io.evenwarm.monitor.alarm;

import java.util.ArrayList;
import java.util.List;

/** Numbers changes and holds those of one call until they are handed over. */
final class ChangeLog {

    private long nextNumber;
    private List<AlarmChange> changes = new ArrayList<>();

    ChangeLog(long nextNumber) {
        this.nextNumber = nextNumber;
    }

    long nextNumber() {
        return nextNumber;
    }

    /** The number of a change that is to be added. */
    long take() {
        return nextNumber++;
    }

    void add(AlarmChange change) {
        changes.add(change);
    }

    /** What was added since the last call. */
    List<AlarmChange> drain() {
        if (changes.isEmpty()) {
            return List.of();
        }
        List<AlarmChange> drained = List.copyOf(changes);
        changes = new ArrayList<>();
        return drained;
    }
}
