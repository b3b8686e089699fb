package io.evenwarm.agent.port;

import java.util.Optional;

/** A contact that a person or a door works: a door switch, a button. */
@FunctionalInterface
public interface Contact {

    /**
     * Whether it is closed now (a door: shut; a button: pressed); empty when it can't be read.
     * Never blocks and never throws.
     */
    Optional<Boolean> isClosed();
}
