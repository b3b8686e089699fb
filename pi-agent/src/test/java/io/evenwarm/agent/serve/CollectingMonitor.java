package io.evenwarm.agent.serve;

import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Message;
import io.evenwarm.message.Message.Hello;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;

/** A monitor on a thread of its own that keeps all history that it gets, each record once. */
final class CollectingMonitor {

    private final List<JournalRecord> stored = new ArrayList<>();
    private final AtomicLong lives = new AtomicLong();
    private volatile Link link;

    CollectingMonitor(Link first) {
        link = first;
        begin();
    }

    /** Another link after the first was lost; goes on from what is stored. */
    void connect(Link next) {
        link = next;
        begin();
    }

    /** Breaks the link. */
    void cut() {
        link.close();
    }

    synchronized List<JournalRecord> stored() {
        return List.copyOf(stored);
    }

    long lives() {
        return lives.get();
    }

    private synchronized long last() {
        return stored.isEmpty() ? 0 : stored.get(stored.size() - 1).sequence();
    }

    private void begin() {
        Link own = link;
        Thread thread = new Thread(() -> collect(own), "collecting monitor");
        thread.setDaemon(true);
        thread.start();
    }

    private void collect(Link own) {
        try {
            own.send(new Hello(List.of(1), Hello.Side.MONITOR, "desk", "test monitor", 1));
            own.send(new Message.HistoryRequest(last()));
            while (true) {
                Message message =
                        own.receive(Duration.ofMinutes(1)).orElse(new Message.KeepAlive());
                if (message instanceof Message.Live) {
                    lives.incrementAndGet();
                } else if (message instanceof Message.HistoryBatch batch) {
                    own.send(new Message.Acknowledge(store(batch)));
                }
            }
        } catch (LinkException e) {
            // The test cut it, or the agent ended: what is stored stays.
            return;
        }
    }

    private synchronized long store(Message.HistoryBatch batch) {
        for (JournalRecord each : batch.records()) {
            if (each.sequence() > last()) {
                stored.add(each);
            }
        }
        return last();
    }
}
