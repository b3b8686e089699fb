package io.evenwarm.agent.serve;

import io.evenwarm.codec.MessageCodec;
import io.evenwarm.link.KeyPin;
import io.evenwarm.link.SignedCommands;
import io.evenwarm.message.Message;
import io.evenwarm.message.Message.Hello;
import io.evenwarm.message.Moment;
import java.util.ArrayDeque;
import java.util.List;
import java.util.Optional;

/**
 * One conversation, without threads, links or waiting: what came in goes to {@link #received}, what
 * goes out comes from {@link #next}.
 *
 * <p>What the other side may do follows from who it is ({@link Peer}): at the machine itself, all;
 * with a key, what its role allows; on a line, look, and commands that a paired key has signed. One
 * whose key is not paired is a stranger: it may ask to be paired, and is told nothing else. Used by
 * the session's own thread only, except where said.
 */
final class Session implements AutoCloseable {

    /** Something is sent at least this often. */
    static final long KEEP_ALIVE_NANOS = 5_000_000_000L;

    /** Three lost keep-alives: nobody is there any more. */
    static final long DEAD_NANOS = 15_000_000_000L;

    static final long TIME_NANOS = 60_000_000_000L;

    /**
     * The same of somebody who may tell the time, while nothing has set the clock: on a busy
     * machine an answer may come too late to be believed, and until one is, what is kept has the
     * wrong dates.
     */
    static final long UNTOLD_TIME_NANOS = 10_000_000_000L;

    private static final String STRANGER_WORDS = "not paired";

    /** How often a key is looked for among the paired ones, in case it was taken out. */
    static final long ROLE_NANOS = 5_000_000_000L;

    /** A stranger that has not asked to be paired by then is sent away. */
    static final long STRANGER_NANOS = 10_000_000_000L;

    private final ServeContext context;
    private final Peer from;
    private final boolean speaksFirst;
    private final boolean isStranger;
    private final Runnable wakeup;
    private final LiveStream live;
    private final HistoryStream history;

    /** Replies, in order; each message that comes in adds a bounded number. */
    private final ArrayDeque<Message> replies = new ArrayDeque<>();

    private final SessionCommands commands;
    private volatile long lastHeardNanos;
    private Optional<Hello> peer = Optional.empty();
    private Optional<String> ending = Optional.empty();
    private boolean isOver;
    private boolean sendsHistoryNext;
    private long lastSentNanos;
    private long nextTimeNanos;
    private final long beginNanos;
    private long roleLookedNanos;
    private Optional<PairingDesk.Attempt> attempt = Optional.empty();
    private Optional<PairingDesk.Window> window = Optional.empty();

    /**
     * @param from who is at the other end
     * @param speaksFirst whether to say hello at once; on a serial line, where nobody may be
     *     listening, only after the other side did
     * @param maxRecords in one history batch
     * @param wakeup called, from any thread, when {@link #next} may have something to send
     */
    Session(
            ServeContext context,
            Peer from,
            boolean speaksFirst,
            int maxRecords,
            Runnable wakeup,
            long nowNanos) {
        this.context = context;
        this.from = from;
        this.isStranger = isUnpaired();
        this.commands = new SessionCommands(context, from, replies, wakeup);
        this.speaksFirst = speaksFirst && !isStranger;
        this.beginNanos = nowNanos;
        this.roleLookedNanos = nowNanos;
        this.wakeup = wakeup;
        this.live = new LiveStream(context.board());
        this.history = new HistoryStream(context.journal().openReader(), maxRecords);
        this.lastHeardNanos = nowNanos;
        this.lastSentNanos = nowNanos;
        if (this.speaksFirst) {
            replies.add(hello(Optional.empty()));
        }
    }

    /** Whether the other side proved a key that is not, or no more, among the paired ones. */
    private boolean isUnpaired() {
        return from.fold(
                trusted -> false,
                keyed -> context.pairing().roleOf(keyed.key()).isEmpty(),
                line -> false);
    }

    /**
     * @param asked the other side's nonce, where this side's key is to be proved
     */
    private Hello hello(Optional<String> asked) {
        return new Hello(
                List.of(MessageCodec.VERSION),
                Hello.Side.AGENT,
                context.name().value(),
                context.program(),
                context.clockRate(),
                Optional.empty(),
                asked.flatMap(context.pairing()::proof),
                context.sensors());
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

    /** A damaged frame was passed over: nobody knows what it said. */
    void cameDamaged() {
        history.cameDamaged();
    }

    /** Whether the next message may be handed in: replies to the one before have gone out. */
    boolean isReadyForMore() {
        return replies.isEmpty() && ending.isEmpty();
    }

    /** Takes one message. */
    void received(Message message, long nowNanos) {
        if (message instanceof Message.Goodbye goodbye) {
            isOver = true;
            ending = Optional.of("it said goodbye: " + goodbye.reason());
        } else if (isOfPairing(message)) {
            // Before any hello: whoever wants to be paired need not be known yet.
            return;
        } else if (isStranger) {
            if (!(message instanceof Message.KeepAlive)) {
                end(STRANGER_WORDS);
            }
        } else if (message instanceof Hello hello) {
            greeted(hello);
        } else if (peer.isEmpty()) {
            end("say hello first");
        } else if (message instanceof Message.HistoryRequest request) {
            history.requested(request.afterSequence(), nowNanos);
        } else if (message instanceof Message.Acknowledge acknowledge) {
            history.acknowledged(acknowledge.sequence());
        } else if (message instanceof Message.CommandRequest request) {
            commands.plain(request);
        } else if (message instanceof Message.SignedCommand command) {
            commands.signed(command);
        } else if (message instanceof Message.PairOpen open) {
            opened(open);
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
        if (teller.side() == Hello.Side.MONITOR
                && time.answersMonotonicNanos().isPresent()
                && commands.refusalOfPlain().isEmpty()) {
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
            // Any other link has proved the key already, or is at the machine itself.
            replies.add(hello(isLine() ? hello.nonce() : Optional.empty()));
            history.forget();
        }
        if (isLine()) {
            replies.add(commands.challenge());
        }
        peer = Optional.of(hello);
        nextTimeNanos = lastHeardNanos;
    }

    private boolean isLine() {
        return from.fold(trusted -> false, keyed -> false, line -> true);
    }

    /** Takes a message that belongs to pairing; whether it was one. */
    private boolean isOfPairing(Message message) {
        if (message instanceof Message.PairRequest request) {
            asked(request);
        } else if (message instanceof Message.PairNonce nonce) {
            attempt.flatMap(each -> each.revealed(nonce.nonce())).ifPresent(replies::add);
        } else if (message instanceof Message.PairConfirm confirm) {
            attempt.ifPresent(each -> each.said(confirm.accepted()));
            window.ifPresent(each -> each.said(confirm.accepted()));
        } else {
            return false;
        }
        return true;
    }

    private void asked(Message.PairRequest request) {
        Optional<KeyPin> shown = SignedCommands.pinOf(request.key());
        boolean isItsOwn =
                shown.isPresent()
                        && from.fold(
                                trusted -> false,
                                keyed -> keyed.key().equals(shown.get()),
                                line -> true);
        if (!isItsOwn || attempt.isPresent()) {
            end("pairing needs the sender's own key, once");
            return;
        }
        PairingDesk.Attempt begun = context.pairing().begin(shown.get(), request.name(), wakeup);
        attempt = Optional.of(begun);
        begun.commit().ifPresent(replies::add);
    }

    /** A command at this machine wants monitors to be paired. */
    private void opened(Message.PairOpen open) {
        boolean isHere = from.fold(trusted -> true, keyed -> false, line -> false);
        if (isHere && window.isEmpty()) {
            window = Optional.of(context.pairing().open(open.role(), wakeup));
        }
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
        Optional<Message> ofPairing = chooseOfPairing();
        if (ofPairing.isPresent()) {
            return ofPairing;
        }
        lookAtRole(nowNanos);
        if (!replies.isEmpty()) {
            return Optional.ofNullable(replies.poll());
        }
        Optional<Message> answer = commands.nextAnswer();
        if (answer.isPresent()) {
            return answer;
        }
        if (peer.isEmpty()) {
            // Whoever is being paired waits for people, and must see that this side lives.
            return attempt.isPresent() ? keepAlive(nowNanos) : Optional.empty();
        }
        return chooseForGreeted(nowNanos, peer.get().side() == Hello.Side.MONITOR);
    }

    /** On a line nobody need be there; once greeted, and on any other link, somebody must. */
    private boolean isSilent(long nowNanos) {
        return (!isLine() || peer.isPresent()) && nowNanos - lastHeardNanos > DEAD_NANOS;
    }

    private Optional<Message> chooseForGreeted(long nowNanos, boolean isMonitor) {
        if (isMonitor && nowNanos - nextTimeNanos >= 0) {
            Moment now = context.now().get();
            nextTimeNanos = nowNanos + (isTimeWanted(now) ? UNTOLD_TIME_NANOS : TIME_NANOS);
            return Optional.of(new Message.Time(now));
        }
        Optional<? extends Message> stream = isMonitor ? chooseStream(nowNanos) : batch(nowNanos);
        return stream.isPresent() ? Optional.of(stream.get()) : keepAlive(nowNanos);
    }

    private boolean isTimeWanted(Moment now) {
        return !now.wallTrusted() && commands.refusalOfPlain().isEmpty();
    }

    private Optional<Message> keepAlive(long nowNanos) {
        return nowNanos - lastSentNanos >= KEEP_ALIVE_NANOS
                ? Optional.of(new Message.KeepAlive())
                : Optional.empty();
    }

    /** The end of a pairing for the monitor, or news of it for the command at this machine. */
    private Optional<Message> chooseOfPairing() {
        Optional<Message.PairResult> result = attempt.flatMap(PairingDesk.Attempt::result);
        if (result.isPresent()) {
            attempt = Optional.empty();
            if (isStranger) {
                end("pairing is over");
            }
            return Optional.of(result.get());
        }
        Optional<Message.PairState> news = window.flatMap(PairingDesk.Window::news);
        return news.isPresent() ? Optional.of(news.get()) : Optional.empty();
    }

    /** Ends a session whose key was taken out, and one of a stranger who asks for nothing. */
    private void lookAtRole(long nowNanos) {
        if (isStranger) {
            boolean isLate = nowNanos - beginNanos > STRANGER_NANOS;
            if (attempt.isEmpty() && (isLate || !context.pairing().isOpen())) {
                end(STRANGER_WORDS);
            }
        } else if (nowNanos - roleLookedNanos > ROLE_NANOS) {
            roleLookedNanos = nowNanos;
            if (isUnpaired()) {
                end("this monitor is not paired with the agent any more");
            }
        }
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

    /** Whether the other side's key is not paired. */
    boolean isStranger() {
        return isStranger;
    }

    @Override
    public void close() {
        attempt.ifPresent(PairingDesk.Attempt::close);
        window.ifPresent(PairingDesk.Window::close);
        history.close();
    }
}
