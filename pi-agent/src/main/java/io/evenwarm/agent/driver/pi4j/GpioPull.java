package io.evenwarm.agent.driver.pi4j;

/** The chip's own weak resistor at an input. */
public enum GpioPull {
    UP("up"),
    DOWN("down"),
    NONE("none");

    private final String word;

    GpioPull(String word) {
        this.word = word;
    }

    /** As in the configuration. */
    public String word() {
        return word;
    }
}
