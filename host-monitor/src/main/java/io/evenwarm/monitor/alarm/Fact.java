package io.evenwarm.monitor.alarm;

/**
 * Something about the monitor, or an agent, that only others can know: that the store fails, that
 * notices don't get out, that a clock is not to be trusted. Holds until another one with the same
 * key takes its place.
 *
 * @param key what it is about
 * @param holds whether it is so now
 * @param words for the alarm, while it holds
 */
public record Fact(AlarmKey key, boolean holds, AlarmWords words) {}
