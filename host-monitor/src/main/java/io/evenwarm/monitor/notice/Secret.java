package io.evenwarm.monitor.notice;

/**
 * A password or key. Shows itself to nobody who doesn't ask for it by {@link #reveal()}: not in
 * logs, exports or error texts.
 */
public final class Secret {

    private final String value;

    public Secret(String value) {
        this.value = value;
    }

    /** The secret itself, for the library that needs it and nobody else. */
    public String reveal() {
        return value;
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof Secret secret && secret.value.equals(value);
    }

    @Override
    public int hashCode() {
        return Secret.class.hashCode();
    }

    @Override
    public String toString() {
        return "(secret)";
    }
}
