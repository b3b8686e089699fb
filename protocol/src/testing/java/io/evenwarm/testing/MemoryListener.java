package io.evenwarm.testing;

import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.LinkListener;
import io.evenwarm.link.MemoryLinks;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;

/** A listener for links in memory. */
public final class MemoryListener implements LinkListener {

    private final LinkedBlockingQueue<Link> coming = new LinkedBlockingQueue<>();
    private volatile boolean isClosed;

    /** The monitor's end of a new link. */
    public Link connect() {
        MemoryLinks.Pair pair = MemoryLinks.pair();
        coming.add(pair.left());
        return pair.right();
    }

    @Override
    public Link accept() throws LinkException {
        try {
            while (!isClosed) {
                Link link = coming.poll(20, TimeUnit.MILLISECONDS);
                if (link != null) {
                    return link;
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        throw new LinkException("the listener in memory is closed");
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
