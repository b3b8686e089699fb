package io.evenwarm.message;

/**
 * A probe's name, unique in its cabinet.
 *
 * @param value 1 to 64 letters, digits, spaces, dots, underscores or hyphens
 */
public record ProbeName(String value) implements Comparable<ProbeName> {

    public ProbeName {
        Names.require("probe name", value);
    }

    @Override
    public int compareTo(ProbeName other) {
        return value.compareTo(other.value);
    }

    @Override
    public String toString() {
        return value;
    }
}
