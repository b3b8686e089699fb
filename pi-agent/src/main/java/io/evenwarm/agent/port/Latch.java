package io.evenwarm.agent.port;

import java.util.Optional;

/** Whether a cabinet's hard cut-off has tripped. */
public sealed interface Latch {

    /** Not tripped. */
    record Clear() implements Latch {}

    /**
     * Tripped, until a person resets it.
     *
     * @param reason what tripped it, in plain words with values
     */
    record Tripped(String reason) implements Latch {}

    /** The reason, when tripped. */
    default Optional<String> trippedReason() {
        return this instanceof Tripped tripped ? Optional.of(tripped.reason()) : Optional.empty();
    }
}
