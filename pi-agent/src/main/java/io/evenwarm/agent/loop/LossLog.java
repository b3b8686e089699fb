package io.evenwarm.agent.loop;

import io.evenwarm.message.Reading;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;

/**
 * What the log is told of one probe's lost values. A loose wire loses thousands a day, each of them
 * after a good one: the same trouble gets a line at once, and then one in {@value #AGAIN_MINUTES}
 * minutes with how often it came meanwhile, so that the log keeps room for all else.
 */
final class LossLog {

    static final long AGAIN_MINUTES = 10;
    private static final long AGAIN_NANOS = AGAIN_MINUTES * 60_000_000_000L;

    private final Map<Reading.Doubt, Entry> entries = new EnumMap<>(Reading.Doubt.class);

    private static final class Entry {
        private long toldAtNanos;
        private long untold;
    }

    /**
     * Notes that a value was lost.
     *
     * @return what to say beside the trouble itself, often nothing; empty when it is to be silent
     */
    Optional<String> lost(Reading.Doubt doubt, long nowNanos) {
        Entry entry = entries.get(doubt);
        if (entry == null) {
            entry = new Entry();
            entries.put(doubt, entry);
        } else if (nowNanos - entry.toldAtNanos < AGAIN_NANOS) {
            entry.untold++;
            return Optional.empty();
        }
        String more =
                entry.untold == 0 ? "" : "; " + entry.untold + " more since the last such line";
        entry.toldAtNanos = nowNanos;
        entry.untold = 0;
        return Optional.of(more);
    }
}
