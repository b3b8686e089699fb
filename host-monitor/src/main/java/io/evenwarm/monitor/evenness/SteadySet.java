package io.evenwarm.monitor.evenness;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Predicate;

/**
 * Which probes a pattern was learned of. A stretch in which one is missing does not count; another
 * set that stays for a day is the new one.
 */
final class SteadySet {

    /** A day. */
    private static final int OTHERS_MAX = (int) (86_400_000 / AirStretch.LENGTH_MILLIS);

    private final Predicate<Position> counts;

    private List<String> known = List.of();
    private List<String> other = List.of();
    private int others;

    private boolean[] mask = new boolean[0];
    private List<String> present = List.of();

    /** What to do with a stretch. */
    enum Answer {
        /** It is of the known probes. */
        COUNT,
        /** It is of others. */
        PASS_OVER,
        /** It is of others, and they are the known ones from here on: learn anew. */
        BEGIN_ANEW
    }

    /**
     * @param counts where a probe must be for it to count
     */
    SteadySet(Predicate<Position> counts) {
        this.counts = counts;
    }

    /** Another table may have other probes at the same indices. */
    void beginTable() {
        mask = new boolean[0];
        present = List.of();
    }

    Answer look(AirTable table, int slot) {
        see(table, slot);
        if (present.isEmpty()) {
            return Answer.PASS_OVER;
        }
        if (present.equals(known)) {
            others = 0;
            return Answer.COUNT;
        }
        if (!present.equals(other)) {
            other = present;
            others = 0;
        }
        others++;
        if (known.isEmpty() || others > OTHERS_MAX) {
            known = present;
            others = 0;
            return Answer.BEGIN_ANEW;
        }
        return Answer.PASS_OVER;
    }

    /** Names those that have a value; anew only where they change, as there are many stretches. */
    private void see(AirTable table, int slot) {
        boolean isAsBefore = mask.length == table.probes();
        for (int i = 0; isAsBefore && i < mask.length; i++) {
            isAsBefore = mask[i] == isThere(table, i, slot);
        }
        if (isAsBefore) {
            return;
        }
        mask = new boolean[table.probes()];
        List<String> names = new ArrayList<>();
        for (int i = 0; i < mask.length; i++) {
            mask[i] = isThere(table, i, slot);
            if (mask[i]) {
                names.add(table.name(i));
            }
        }
        present = List.copyOf(names);
    }

    boolean isThere(AirTable table, int probe, int slot) {
        return counts.test(table.position(probe)) && !Double.isNaN(table.celsius(probe, slot));
    }
}
