package io.evenwarm.agent.serve;

import io.evenwarm.link.KeyPin;
import io.evenwarm.link.SignedCommands;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.Message;
import io.evenwarm.message.Role;
import java.util.Optional;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * The commands of one session: who may give them, which wait for their outcome, and the answers.
 * Used by the session's own thread; outcomes come from the control thread.
 */
final class SessionCommands {

    /** Commands of one peer whose outcome is still open. */
    static final int MAX_OPEN_COMMANDS = 16;

    private final ServeContext context;
    private final Peer from;
    private final Queue<Message> replies;
    private final Runnable wakeup;
    private final SignedCommands.Judge judge = new SignedCommands.Judge();

    /** Filled by the control thread; bounded by {@link #openCommands}. */
    private final ConcurrentLinkedQueue<Message.CommandAnswer> answers =
            new ConcurrentLinkedQueue<>();

    private final AtomicInteger openCommands = new AtomicInteger();

    /**
     * @param from who gives them
     * @param replies where what is answered at once goes
     * @param wakeup called, from any thread, when {@link #nextAnswer} has one
     */
    SessionCommands(ServeContext context, Peer from, Queue<Message> replies, Runnable wakeup) {
        this.context = context;
        this.from = from;
        this.replies = replies;
        this.wakeup = wakeup;
    }

    /** What the next command on a line must be signed over. */
    Message challenge() {
        return judge.challenge();
    }

    /** The next outcome to send; empty while none is there. */
    Optional<Message> nextAnswer() {
        Message.CommandAnswer answer = answers.poll();
        if (answer == null) {
            return Optional.empty();
        }
        openCommands.decrementAndGet();
        return Optional.of(answer);
    }

    /** Does a command that nobody signed, or says why not. */
    void plain(Message.CommandRequest request) {
        refusalOfPlain()
                .ifPresentOrElse(why -> refuse(request.id(), why), () -> commanded(request));
        if (isLine()) {
            // Its sender may have missed it: the next one can be signed.
            replies.add(challenge());
        }
    }

    private boolean isLine() {
        return from.fold(trusted -> false, keyed -> false, line -> true);
    }

    /** Why a command that nobody signed is not done; empty when it may be. */
    Optional<String> refusalOfPlain() {
        return from.fold(
                trusted -> Optional.empty(),
                keyed -> refusalOf(keyed.key()),
                line ->
                        Optional.of(
                                "not done: on a serial line a command must be signed by a paired"
                                        + " monitor"));
    }

    private Optional<String> refusalOf(KeyPin key) {
        Optional<Role> role = context.pairing().roleOf(key);
        if (role.equals(Optional.of(Role.OPERATE))) {
            return Optional.empty();
        }
        return Optional.of(
                role.isPresent()
                        ? "not done: this monitor may look only. To let it give commands, pair it"
                                + " again: evenwarm-agent pair --role operate"
                        : "not done: this monitor is not paired with the agent, and may look only."
                                + " To pair it: evenwarm-agent pair");
    }

    /** Does a command that was signed on a line, or says why not. */
    void signed(Message.SignedCommand command) {
        if (!isLine()) {
            return;
        }
        try {
            SignedCommands.Signed signed = judge.judge(command);
            long id = signed.request().id();
            refusalOf(signed.signer())
                    .ifPresentOrElse(why -> refuse(id, why), () -> commanded(signed.request()));
        } catch (SignedCommands.NotSignedException e) {
            e.id().ifPresent(id -> refuse(id, "not done: " + e.getMessage()));
        }
    }

    private void refuse(long id, String words) {
        replies.add(new Message.CommandAnswer(id, new CommandOutcome.Refused(words)));
    }

    private void commanded(Message.CommandRequest request) {
        if (openCommands.get() >= MAX_OPEN_COMMANDS) {
            refuse(
                    request.id(),
                    "not done: " + MAX_OPEN_COMMANDS + " commands are waiting already. Try again");
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
}
