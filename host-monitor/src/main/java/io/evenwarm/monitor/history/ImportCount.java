package io.evenwarm.monitor.history;

/**
 * What became of readings that were given to the store.
 *
 * @param stored new ones
 * @param alreadyThere passed over, since that probe has a reading of that time
 */
public record ImportCount(long stored, long alreadyThere) {}
