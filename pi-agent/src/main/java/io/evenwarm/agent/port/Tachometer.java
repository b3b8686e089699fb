package io.evenwarm.agent.port;

import java.util.OptionalDouble;

/** What counts a fan's turns. */
@FunctionalInterface
public interface Tachometer {

    /**
     * Revolutions per minute over the last seconds, 0 when it stands still; empty when it can't be
     * read. Never blocks and never throws.
     */
    OptionalDouble revolutionsPerMinute();
}
