package io.evenwarm.agent.serve;

import io.evenwarm.codec.MessageCodec;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.Message;
import io.evenwarm.message.Message.Hello;
import java.util.ArrayDeque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * One conversation, without threads, links or waiting: what came in goes to {@link #received}, what
 * goes out comes from {@link #next}.
 *
 * <p>Whoever has a link to us was judged by the link's listener: at the machine itself or paired,
 * and may therefore operate. Used by the session's own thread only, except where said.
 */
final class Session implements AutoCloseable {

    /** Something is sent at least this often. */
    static final long KEEP_ALIVE_NANOS = 5_000_000_000L;

    /** Three lost keep-alives: nobody is there any more. */
    static final long DEAD_NANOS = 15_000_000_000L;

    static final long TIME_NANOS = 60_000_000_000L;

    /** Commands of one peer whose outcome is still open. */
    static final int MAX_OPEN_COMMANDS = 16;

    private final ServeContext context;
    private final boolean speaksFirst;
    private final Runnable wakeup;
    private final LiveStream live;
    private final HistoryStream history;

    /** Replies, in order; each message that comes in adds a bounded number. */
    private final ArrayDeque<Message> replies = new ArrayDeque<>();

    /** Filled by the control thread; bounded by {@link #openCommands}. */
    private final ConcurrentLinkedQueue<Message.CommandAnswer> answers =
            new ConcurrentLinkedQueue<>();

    private final AtomicInteger openCommands = new AtomicInteger();
    private volatile long lastHeardNanos;
    private Optional<Hello> peer = Optional.empty();
    private Optional<String> ending = Optional.empty();
    private boolean isOver;
    private boolean sendsHistoryNext;
    private long lastSentNanos;
    private long nextTimeNanos;

    /**
     * @param speaksFirst whether to say hello at once; on a serial line, where nobody may be
     *     listening, only after the other side did
     * @param maxRecords in one history batch
     * @param wakeup called, from any thread, when {@link #next} may have something to send
     */
    Session(
            ServeContext context,
            boolean speaksFirst,
            int maxRecords,
            Runnable wakeup,
            long nowNanos) {
        this.context = context;
        this.speaksFirst = speaksFirst;
        this.wakeup = wakeup;
        this.live = new LiveStream(context.board());
        this.history = new HistoryStream(context.journal().openReader(), maxRecords);
        this.lastHeardNanos = nowNanos;
        this.lastSentNanos = nowNanos;
        if (speaksFirst) {
            replies.add(hello());
        }
    }

    private Hello hello() {
        return new Hello(
                List.of(MessageCodec.VERSION),
                Hello.Side.AGENT,
                context.name().value(),
                context.program(),
                context.clockRate());
    }

    /** The other side is alive. Any thread. */
    void heard(long nowNanos) {
        lastHeardNanos = nowNanos;
    }

    /** The journal has grown. Any thread. */
    void committed() {
        history.committed();
        wakeup.run();
    }

    /** Whether the next message may be handed in: replies to the one before have gone out. */
    boolean isReadyForMore() {
        return replies.isEmpty() && ending.isEmpty();
    }

    /** Takes one message. */
    void received(Message message, long nowNanos) {
        if (message instanceof Hello hello) {
            greeted(hello);
        } else if (message instanceof Message.Goodbye goodbye) {
            isOver = true;
            ending = Optional.of("it said goodbye: " + goodbye.reason());
        } else if (peer.isEmpty()) {
            end("say hello first");
        } else if (message instanceof Message.HistoryRequest request) {
            history.requested(request.afterSequence(), nowNanos);
        } else if (message instanceof Message.Acknowledge acknowledge) {
            history.acknowledged(acknowledge.sequence());
        } else if (message instanceof Message.CommandRequest request) {
            commanded(request);
        } else if (message instanceof Message.StatusRequest) {
            context.board().all().forEach(each -> replies.add(new Message.Live(each)));
            List<String> troubles = context.troubles().get();
            replies.add(
                    new Message.StatusEnd(
                            troubles.isEmpty() ? Optional.empty() : Optional.of(troubles),
                            context.run().previousRun(),
                            context.run().clockWords()));
        } else if (message instanceof Message.Time time) {
            told(time);
        }
        // What is left is a sign of life, or an agent's own kind of message: nothing to do.
    }

    /** The time is taken from who may operate only: it dates what is kept. */
    private void told(Message.Time time) {
        Hello teller = peer.orElseThrow();
        if (teller.side() == Hello.Side.MONITOR && time.answersMonotonicNanos().isPresent()) {
            context.run()
                    .timeTold(
                            teller.name(),
                            time.moment().wall(),
                            time.answersMonotonicNanos().get());
        }
    }

    /** Also a second hello is one: on a serial line a monitor may start again unseen. */
    private void greeted(Hello hello) {
        if (hello.side() == Hello.Side.AGENT) {
            end("this is an agent too: connect a monitor to it");
            return;
        }
        if (!hello.versions().contains(MessageCodec.VERSION)) {
            end(
                    "this agent speaks protocol version "
                            + MessageCodec.VERSION
                            + ", you speak "
                            + hello.versions()
                            + ": update the older of the two programs");
            return;
        }
        if (!speaksFirst || peer.isPresent()) {
            replies.add(hello());
            history.forget();
        }
        peer = Optional.of(hello);
        nextTimeNanos = lastHeardNanos;
    }

    private void commanded(Message.CommandRequest request) {
        if (openCommands.get() >= MAX_OPEN_COMMANDS) {
            replies.add(
                    new Message.CommandAnswer(
                            request.id(),
                            new CommandOutcome.Refused(
                                    "not done: "
                                            + MAX_OPEN_COMMANDS
                                            + " commands are waiting already. Try again")));
            return;
        }
        openCommands.incrementAndGet();
        context.commands()
                .submit(
                        request.command(),
                        outcome -> {
                            answers.add(new Message.CommandAnswer(request.id(), outcome));
                            wakeup.run();
                        });
    }

    /** Says goodbye as its last message. */
    void end(String reason) {
        if (ending.isEmpty()) {
            ending = Optional.of(reason);
            replies.add(new Message.Goodbye(reason));
        }
    }

    /** What to send now; empty when there is nothing, or when it is over. */
    Optional<Message> next(long nowNanos) {
        if (isOver) {
            return Optional.empty();
        }
        Optional<Message> message = choose(nowNanos);
        if (message.isPresent()) {
            lastSentNanos = nowNanos;
        }
        return message;
    }

    private Optional<Message> choose(long nowNanos) {
        Message reply = replies.poll();
        if (reply != null) {
            return Optional.of(reply);
        }
        if (ending.isPresent()) {
            isOver = true;
            return Optional.empty();
        }
        if (isSilent(nowNanos)) {
            ending = Optional.of("it said nothing for " + DEAD_NANOS / 1_000_000_000L + " s");
            isOver = true;
            return Optional.empty();
        }
        Message.CommandAnswer answer = answers.poll();
        if (answer != null) {
            openCommands.decrementAndGet();
            return Optional.of(answer);
        }
        if (peer.isEmpty()) {
            return Optional.empty();
        }
        return chooseForGreeted(nowNanos, peer.get().side() == Hello.Side.MONITOR);
    }

    /** On a line nobody need be there; once greeted, and on any other link, somebody must. */
    private boolean isSilent(long nowNanos) {
        return (speaksFirst || peer.isPresent()) && nowNanos - lastHeardNanos > DEAD_NANOS;
    }

    private Optional<Message> chooseForGreeted(long nowNanos, boolean isMonitor) {
        if (isMonitor && nowNanos - nextTimeNanos >= 0) {
            nextTimeNanos = nowNanos + TIME_NANOS;
            return Optional.of(new Message.Time(context.now().get()));
        }
        Optional<? extends Message> stream = isMonitor ? chooseStream(nowNanos) : batch(nowNanos);
        if (stream.isPresent()) {
            return Optional.of(stream.get());
        }
        return nowNanos - lastSentNanos >= KEEP_ALIVE_NANOS
                ? Optional.of(new Message.KeepAlive())
                : Optional.empty();
    }

    /** Live and history take turns, so that neither holds the other up on a slow line. */
    private Optional<? extends Message> chooseStream(long nowNanos) {
        boolean historyFirst = sendsHistoryNext;
        sendsHistoryNext = !sendsHistoryNext;
        Optional<? extends Message> first = historyFirst ? batch(nowNanos) : live.next(nowNanos);
        if (first.isPresent()) {
            return first;
        }
        return historyFirst ? live.next(nowNanos) : batch(nowNanos);
    }

    private Optional<? extends Message> batch(long nowNanos) {
        return history.next(nowNanos);
    }

    /** Whether nothing will be sent any more. */
    boolean isOver() {
        return isOver;
    }

    /** Why it ended or is about to, for a log. */
    Optional<String> ending() {
        return ending;
    }

    /** What the other side calls itself; empty until it said hello. */
    Optional<Hello> peer() {
        return peer;
    }

    @Override
    public void close() {
        history.close();
    }
}
