package io.evenwarm.agent.serve;

/**
 * How one place where monitors connect is doing.
 *
 * @param name what it is, such as "TLS" or "serial line"
 * @param isOpen whether monitors can connect
 * @param words where it listens, or why not and what is done about it
 * @param sessions how many sessions it has now
 */
public record EndpointState(String name, boolean isOpen, String words, int sessions) {}
