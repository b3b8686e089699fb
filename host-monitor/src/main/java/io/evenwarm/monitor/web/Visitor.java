package io.evenwarm.monitor.web;

/**
 * Somebody with a session.
 *
 * @param name as the keeper called them
 * @param mayAcknowledge whether they may acknowledge alarms, and not only look
 */
public record Visitor(String name, boolean mayAcknowledge) {}
