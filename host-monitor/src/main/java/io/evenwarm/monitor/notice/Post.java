package io.evenwarm.monitor.notice;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.WallClock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.TimeUnit;

/**
 * Carries what is in the outbox to the channels: threads of each channel's own, so that one that
 * hangs holds no other up.
 */
public final class Post implements AutoCloseable {

    /** So soon a new notice is seen, and so late a stop. */
    private static final Duration LOOK_EVERY = Duration.ofMillis(100);

    private static final System.Logger LOG = System.getLogger(Post.class.getName());

    private final Outbox outbox;
    private final Map<String, Recipient> recipients;
    private final Answering answering;
    private final MonotonicClock monotonic;
    private final WallClock wall;
    private final List<Thread> threads = new ArrayList<>();
    private volatile boolean isClosing;

    /** Makes the link by which a person answers a notice. */
    @FunctionalInterface
    public interface Answering {

        /** There is no page that a link could open. */
        Answering BY_NO_LINK = (notice, person) -> Optional.empty();

        /** Empty when there is none. */
        Optional<String> linkFor(Notice notice, String person);
    }

    private Post(
            Outbox outbox,
            Map<String, Recipient> recipients,
            Answering answering,
            MonotonicClock monotonic,
            WallClock wall) {
        this.outbox = outbox;
        this.recipients = Map.copyOf(recipients);
        this.answering = answering;
        this.monotonic = monotonic;
        this.wall = wall;
    }

    /**
     * Starts to deliver.
     *
     * @param recipients by the name of the person
     * @param answering makes the links by which they acknowledge
     */
    public static Post start(
            Outbox outbox,
            Collection<Channel> channels,
            Map<String, Recipient> recipients,
            Answering answering,
            MonotonicClock monotonic,
            WallClock wall) {
        Post post = new Post(outbox, recipients, answering, monotonic, wall);
        for (Channel channel : channels) {
            for (int i = 0; i < channel.atOnce(); i++) {
                post.add("notices " + channel.name(), channel, outbox::take);
            }
            // No alarm ever waits for an exercise.
            post.add("drills " + channel.name(), channel, outbox::takeExercise);
        }
        post.threads.forEach(Thread::start);
        return post;
    }

    private interface Taking {
        Optional<Outbox.Attempt> next(String channel, NoticeTime now);
    }

    private void add(String name, Channel channel, Taking taking) {
        Thread thread = new Thread(() -> run(channel, taking), name);
        thread.setDaemon(true);
        threads.add(thread);
    }

    private void run(Channel channel, Taking taking) {
        try {
            while (!isClosing) {
                Optional<Outbox.Attempt> attempt = taking.next(channel.name(), now());
                if (attempt.isPresent()) {
                    outbox.done(attempt.get(), deliver(channel, attempt.get()), now());
                } else {
                    channel.rest();
                    TimeUnit.MILLISECONDS.sleep(LOOK_EVERY.toMillis());
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private Delivery deliver(Channel channel, Outbox.Attempt attempt) {
        Recipient recipient = recipients.get(attempt.person());
        if (recipient == null) {
            return new Delivery.Refused(
                    "the settings name no person \"" + attempt.person() + "\" any more");
        }
        try {
            Optional<String> answerAt =
                    channel.isForOne()
                            ? answering.linkFor(attempt.notice(), attempt.person())
                            : Optional.empty();
            return channel.deliver(attempt.notice(), recipient.answering(answerAt));
        } catch (RuntimeException e) {
            // A fault of ours: the others must be told all the same, and this one tried again.
            LOG.log(System.Logger.Level.ERROR, "channel " + channel.name() + " failed", e);
            return new Delivery.TryAgain("an error in this program: " + e, Duration.ZERO);
        }
    }

    /** Whether every channel has the threads that it began with. */
    public boolean isWhole() {
        return threads.stream().allMatch(Thread::isAlive);
    }

    private NoticeTime now() {
        return NoticeTime.of(monotonic, wall);
    }

    /** Stops; what is under way is tried again after the next start. */
    @Override
    public void close() {
        isClosing = true;
        threads.forEach(Thread::interrupt);
        for (Thread thread : threads) {
            try {
                thread.join(TimeUnit.SECONDS.toMillis(2));
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                return;
            }
        }
    }
}
