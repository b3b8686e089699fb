package io.evenwarm.monitor.intake;

import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.message.Message;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;

/** A link whose other end reads nothing: a send lasts until the link is closed. */
final class BlockingLink implements Link {

    private final CountDownLatch sending = new CountDownLatch(1);
    private final CountDownLatch closed = new CountDownLatch(1);

    boolean isSending() {
        return sending.getCount() == 0;
    }

    boolean isClosed() {
        return closed.getCount() == 0;
    }

    @Override
    public void send(Message message) throws LinkException {
        sending.countDown();
        try {
            closed.await();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        throw new LinkException("closed");
    }

    @Override
    public Optional<Message> receive(Duration timeout) {
        return Optional.empty();
    }

    @Override
    public String peer() {
        return "nobody";
    }

    @Override
    public long discardedFrames() {
        return 0;
    }

    @Override
    public void close() {
        closed.countDown();
    }
}
