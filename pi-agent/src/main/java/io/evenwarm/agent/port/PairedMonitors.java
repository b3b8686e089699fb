package io.evenwarm.agent.port;

import io.evenwarm.link.KeyPin;
import io.evenwarm.message.Role;
import java.io.IOException;
import java.util.Optional;

/** The monitors that this agent knows. Any thread may call. */
public interface PairedMonitors {

    /**
     * One of them.
     *
     * @param key proves that it is the one
     * @param role what it may do
     * @param name what it called itself, for people
     */
    record Paired(KeyPin key, Role role, String name) {}

    /** What the holder of a key may do; empty when it is not known, or that can't be read. */
    Optional<Role> roleOf(KeyPin key);

    /**
     * Remembers one, in place of an earlier entry for the same key. On return it survives a power
     * cut.
     */
    void add(Paired monitor) throws IOException;
}
