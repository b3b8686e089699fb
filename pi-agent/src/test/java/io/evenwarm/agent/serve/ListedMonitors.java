package io.evenwarm.agent.serve;

import io.evenwarm.agent.port.PairedMonitors;
import io.evenwarm.link.KeyPin;
import io.evenwarm.message.Role;
import java.io.IOException;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;

/** Paired monitors in a map; the test's hand adds, takes out, and breaks its disk. */
final class ListedMonitors implements PairedMonitors {

    private final Map<KeyPin, Paired> all = new ConcurrentHashMap<>();
    private volatile boolean isFailing;

    @Override
    public Optional<Role> roleOf(KeyPin key) {
        return Optional.ofNullable(all.get(key)).map(Paired::role);
    }

    @Override
    public void add(Paired monitor) throws IOException {
        if (isFailing) {
            throw new IOException("the disk is on strike");
        }
        all.put(monitor.key(), monitor);
    }

    ListedMonitors with(KeyPin key, Role role) {
        all.put(key, new Paired(key, role, "desk"));
        return this;
    }

    void remove(KeyPin key) {
        all.remove(key);
    }

    void fail() {
        isFailing = true;
    }

    Map<KeyPin, Paired> all() {
        return Map.copyOf(all);
    }
}
