package io.evenwarm.monitor.intake;

import io.evenwarm.message.AgentName;

/**
 * An agent of the settings.
 *
 * @param name what both the settings and the agent itself call it
 * @param where its address or port, for a person
 * @param opener opens a link to it
 */
public record AgentAddress(AgentName name, String where, LinkOpener opener) {}
