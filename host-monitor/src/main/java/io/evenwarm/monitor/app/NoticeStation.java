package io.evenwarm.monitor.app;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.clock.WallClock;
import io.evenwarm.monitor.notice.Channel;
import io.evenwarm.monitor.notice.Contact;
import io.evenwarm.monitor.notice.NoticeDesk;
import io.evenwarm.monitor.notice.NoticePlan;
import io.evenwarm.monitor.notice.NoticeStore;
import io.evenwarm.monitor.notice.NoticeTime;
import io.evenwarm.monitor.notice.NoticeWriter;
import io.evenwarm.monitor.notice.Outbox;
import io.evenwarm.monitor.notice.OutboxHealth;
import io.evenwarm.monitor.notice.Post;
import io.evenwarm.quantity.TemperatureUnit;
import java.io.IOException;
import java.time.Duration;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;

/** The running notices: desk, queue, and the threads that carry them to the channels. */
final class NoticeStation implements AutoCloseable {

    private static final System.Logger LOG = System.getLogger(NoticeStation.class.getName());

    private static final Duration STILL_MAX = Duration.ofSeconds(15);

    private final NoticeDesk desk;
    private final Post post;
    private final List<Channel> channels;
    private final ScheduledExecutorService steps =
            Executors.newSingleThreadScheduledExecutor(
                    body -> {
                        Thread daemon = new Thread(body, "notice desk");
                        daemon.setDaemon(true);
                        return daemon;
                    });

    /** When a step last ended well. */
    private volatile long stepNanos = SystemClock.monotonic().nanos();

    /** Used by the thread of the steps only. */
    private boolean wasWell = true;

    private NoticeStation(NoticeDesk desk, Post post, List<Channel> channels) {
        this.desk = desk;
        this.post = post;
        this.channels = channels;
    }

    /**
     * Goes on with what the store holds from before.
     *
     * @param answering makes the links by which people acknowledge
     * @throws IOException when the store can't be read
     */
    static NoticeStation start(
            NoticeSettings settings,
            TemperatureUnit unit,
            ZoneId zone,
            NoticeStore store,
            Post.Answering answering)
            throws IOException {
        MonotonicClock monotonic = SystemClock.monotonic();
        WallClock wall = SystemClock.wall();
        NoticePlan plan = settings.plan();
        Outbox outbox =
                Outbox.open(
                        store,
                        plan.limits(),
                        ProcessHandle.current().pid(),
                        NoticeTime.of(monotonic, wall));
        NoticeDesk desk =
                NoticeDesk.open(new NoticeWriter(unit, zone), plan, outbox, store, monotonic, wall);
        List<Channel> channels =
                settings.channels().stream().map(channel -> channel.open(wall)).toList();
        Post post =
                Post.start(
                        outbox,
                        channels,
                        plan.chain().stream()
                                .collect(Collectors.toMap(Contact::person, Contact::recipient)),
                        answering,
                        monotonic,
                        wall);
        NoticeStation station = new NoticeStation(desk, post, channels);
        Future<?> unused =
                station.steps.scheduleWithFixedDelay(station::step, 1, 1, TimeUnit.SECONDS);
        return station;
    }

    private void step() {
        try {
            desk.step();
            stepNanos = SystemClock.monotonic().nanos();
            OutboxHealth health = desk.health();
            if (health.isWell() != wasWell) {
                wasWell = health.isWell();
                LOG.log(
                        System.Logger.Level.WARNING,
                        () -> wasWell ? "notices go out again" : "notices don't go out: " + health);
            }
        } catch (RuntimeException e) {
            // The next step must come all the same.
            LOG.log(System.Logger.Level.ERROR, "the desk of notices failed", e);
        }
    }

    /**
     * Why people may not be told, in words: something waits for too long, or what carries notices
     * stands still.
     */
    Optional<String> trouble() {
        if (SystemClock.monotonic().nanos() - stepNanos > STILL_MAX.toNanos()) {
            return Optional.of("the desk of notices stands still");
        }
        if (!post.isWhole()) {
            return Optional.of("a thread that carries notices has ended");
        }
        List<OutboxHealth.StuckChannel> stuck = desk.health().stuck();
        return stuck.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        stuck.stream()
                                .map(
                                        channel ->
                                                channel.channel()
                                                        + " has delivered nothing for "
                                                        + channel.waiting().toMinutes()
                                                        + " min, "
                                                        + channel.pending()
                                                        + " wait: "
                                                        + channel.words())
                                .collect(Collectors.joining("; ")));
    }

    /** Where events are reported. */
    NoticeDesk desk() {
        return desk;
    }

    /** What did not go out yet is kept for the next start. */
    @Override
    public void close() {
        steps.shutdownNow();
        post.close();
        channels.forEach(Channel::close);
    }
}
