package io.evenwarm.monitor.chain;

import io.evenwarm.link.Link;
import io.evenwarm.monitor.intake.LinkOpener;
import io.evenwarm.testing.MemoryListener;
import java.util.Optional;

/** Where a monitor finds an agent of the same process; its links can be cut. */
final class MemoryPort implements LinkOpener {

    private final MemoryListener listener = new MemoryListener();
    private volatile Optional<Link> newest = Optional.empty();

    @Override
    public Link open() {
        Link link = listener.connect();
        newest = Optional.of(link);
        return link;
    }

    /** The agent's side. */
    MemoryListener listener() {
        return listener;
    }

    void cut() {
        newest.ifPresent(Link::close);
    }
}
