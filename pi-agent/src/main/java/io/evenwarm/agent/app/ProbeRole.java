package io.evenwarm.agent.app;

import java.util.Arrays;
import java.util.Locale;

/** What a probe can be in a cabinet, in the words of the {@code probes} command. */
enum ProbeRole {
    /** In the air, at no place that has a word of its own; control steers by it. */
    CONTROL("control"),
    /** The guard's own. */
    GUARD("top"),
    TOP("top"),
    MIDDLE("middle"),
    BOTTOM("bottom"),
    TUB("tub"),
    ROOM("ambient");

    private final String position;

    ProbeRole(String position) {
        this.position = position;
    }

    String word() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** Its {@code position} in the configuration. */
    String position() {
        return position;
    }

    /** Whether a cabinet may have several. */
    boolean mayBeSeveral() {
        return this == TUB;
    }

    /** All words, for a person. */
    static String words() {
        return String.join(", ", Arrays.stream(values()).map(ProbeRole::word).toList());
    }
}
