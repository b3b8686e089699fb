package io.evenwarm.message;

import java.util.UUID;

/**
 * Names one run of an agent, from start to end. Monotonic times may be compared within one boot
 * only.
 *
 * @param value made anew at every start of the agent
 */
public record BootId(UUID value) {

    @Override
    public String toString() {
        return value.toString();
    }
}
