package io.evenwarm.monitor.history;

/**
 * How far one journal of an agent is stored.
 *
 * @param journal the journal's name
 * @param lastSequence the last sequence number stored of it; 0 when none
 */
public record JournalPosition(String journal, long lastSequence) {}
