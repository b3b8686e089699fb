package io.evenwarm.monitor.live;

import io.evenwarm.message.AgentName;

/**
 * How the monitor stands with one agent.
 *
 * @param connected whether its link is up
 * @param words what is going on, for a person: for example why the link is down and what is tried
 *     next
 */
public record AgentState(AgentName agent, boolean connected, String words) {}
