package io.evenwarm.monitor.alarm;

/**
 * Names what alarms of one cause have in common, so that a person hears of the cause once.
 *
 * @param number counts from 1 and never comes again
 */
public record EventId(long number) implements Comparable<EventId> {

    public EventId {
        if (number < 1) {
            throw new IllegalArgumentException("events count from 1 but " + number + " was given");
        }
    }

    @Override
    public int compareTo(EventId other) {
        return Long.compare(number, other.number);
    }

    @Override
    public String toString() {
        return Long.toString(number);
    }
}
