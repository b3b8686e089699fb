package io.evenwarm.agent.guard;

/** The lines that the gate drives. */
public enum Line {
    HEATER("heater relay"),
    CUT_OFF_RELAY("cut-off relay"),
    FAN("fan"),
    BUZZER("buzzer"),
    HUMIDIFIER("humidifier"),
    VENT("vent");

    private final String words;

    Line(String words) {
        this.words = words;
    }

    /** In plain words. */
    public String words() {
        return words;
    }

    /** Whether heat must wait when this line can't be driven. */
    boolean carriesHeat() {
        return this == HEATER || this == CUT_OFF_RELAY;
    }
}
