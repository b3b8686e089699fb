package io.evenwarm.agent.app;

import io.evenwarm.agent.durable.FilePairedMonitors;
import io.evenwarm.agent.port.PairedMonitors;
import io.evenwarm.link.KeyPin;
import io.evenwarm.message.Role;
import java.io.IOException;
import java.util.Map;
import java.util.Optional;

/**
 * The monitors of the configuration, and those that were paired. What the configuration says of a
 * key counts, since somebody who may write it has said so.
 *
 * @param configured what each monitor of the configuration may do
 * @param paired in the state folder
 */
record KnownMonitors(Map<KeyPin, Role> configured, FilePairedMonitors paired)
        implements PairedMonitors {

    KnownMonitors {
        configured = Map.copyOf(configured);
    }

    static KnownMonitors of(AgentConfiguration configuration) {
        return new KnownMonitors(
                configuration.tls().map(AgentConfiguration.TlsSettings::monitors).orElse(Map.of()),
                new FilePairedMonitors(configuration.stateFolder()));
    }

    @Override
    public Optional<Role> roleOf(KeyPin key) {
        Role said = configured.get(key);
        return said == null ? paired.roleOf(key) : Optional.of(said);
    }

    @Override
    public void add(Paired monitor) throws IOException {
        Role said = configured.get(monitor.key());
        if (said != null && said != monitor.role()) {
            throw new IOException(
                    "its key stands in the configuration with another role: change it there");
        }
        paired.add(monitor);
    }
}
