package io.evenwarm.monitor.chain;

import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.LinkListener;
import io.evenwarm.link.MemoryLinks;
import io.evenwarm.monitor.intake.LinkOpener;
import java.util.Optional;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;

/** Where a monitor finds an agent of the same process; its links can be cut. */
final class MemoryPort implements LinkOpener, LinkListener {

    private final BlockingQueue<Link> coming = new LinkedBlockingQueue<>();
    private volatile Optional<Link> newest = Optional.empty();
    private volatile boolean isClosed;

    @Override
    public Link open() {
        MemoryLinks.Pair pair = MemoryLinks.pair();
        newest = Optional.of(pair.left());
        coming.add(pair.right());
        return pair.left();
    }

    void cut() {
        newest.ifPresent(Link::close);
    }

    @Override
    public Link accept() throws LinkException {
        try {
            while (!isClosed) {
                Link link = coming.poll(50, TimeUnit.MILLISECONDS);
                if (link != null) {
                    return link;
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        throw new LinkException("closed");
    }

    @Override
    public String address() {
        return "memory";
    }

    @Override
    public void close() {
        isClosed = true;
    }
}
