package io.evenwarm.monitor.intake;

import io.evenwarm.link.KeyPin;
import io.evenwarm.message.AgentName;
import java.util.Optional;

/**
 * An agent of the settings.
 *
 * @param name what both the settings and the agent itself call it
 * @param where its address or port, for a person
 * @param key which the agent must prove in its hello, on a line that proves none by itself; empty
 *     where the link has proved it, and where no key is known
 * @param opener opens a link to it
 */
public record AgentAddress(AgentName name, String where, Optional<KeyPin> key, LinkOpener opener) {

    /** Where the hello need prove nothing. */
    public AgentAddress(AgentName name, String where, LinkOpener opener) {
        this(name, where, Optional.empty(), opener);
    }
}
