package io.evenwarm.message;

/**
 * An agent's name, as its keeper calls it.
 *
 * @param value 1 to 64 letters, digits, spaces, dots, underscores or hyphens
 */
public record AgentName(String value) implements Comparable<AgentName> {

    public AgentName {
        Names.require("agent name", value);
    }

    @Override
    public int compareTo(AgentName other) {
        return value.compareTo(other.value);
    }

    @Override
    public String toString() {
        return value;
    }
}
