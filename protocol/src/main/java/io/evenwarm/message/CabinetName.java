package io.evenwarm.message;

/**
 * A cabinet's name, unique at its agent.
 *
 * @param value 1 to 64 letters, digits, spaces, dots, underscores or hyphens
 */
public record CabinetName(String value) implements Comparable<CabinetName> {

    public CabinetName {
        Names.require("cabinet name", value);
    }

    @Override
    public int compareTo(CabinetName other) {
        return value.compareTo(other.value);
    }

    @Override
    public String toString() {
        return value;
    }
}
