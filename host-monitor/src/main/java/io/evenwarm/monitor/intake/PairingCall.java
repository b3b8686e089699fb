package io.evenwarm.monitor.intake;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.link.Identity;
import io.evenwarm.link.KeyPin;
import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.PairingCode;
import io.evenwarm.link.SignedCommands;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.Message;
import io.evenwarm.message.Role;
import java.time.Duration;
import java.util.Optional;

/**
 * Has this monitor paired with the agent at the other end of a link. One thread; for one use.
 *
 * <p>See {@link PairingCode} for what makes the digits worth comparing.
 */
public final class PairingCall {

    private static final Duration ANSWER_TIME_MAX = Duration.ofSeconds(10);
    private static final Duration PEOPLE_TIME_MAX = Duration.ofMinutes(6);
    private static final Duration POLL = Duration.ofMillis(100);

    private final Link link;
    private final Identity own;
    private final MonotonicClock clock;
    private long lastSentNanos;

    /**
     * @param link to a program that nothing is known of yet
     * @param own this monitor's identity
     */
    public PairingCall(Link link, Identity own, MonotonicClock clock) {
        this.link = link;
        this.own = own;
        this.clock = clock;
        this.lastSentNanos = clock.nanos();
    }

    /**
     * What came of it: the agent has remembered this monitor.
     *
     * @param key the agent's key, which a person has compared
     * @param name what the agent is called
     * @param role what this monitor may do there
     */
    public record Paired(KeyPin key, AgentName name, Role role) {}

    /** Who compares the digits. */
    public interface Person {

        /** Shows the digits and asks. */
        void compare(String code);

        /** What the person said; empty until then. Must not wait. */
        Optional<Boolean> answer();
    }

    /**
     * Runs the whole exchange.
     *
     * @param monitorName what this monitor calls itself
     * @throws LinkException when it did not come to a pairing; the message says why
     */
    public Paired run(String monitorName, Person person) throws LinkException {
        send(new Message.PairRequest(monitorName, own.publicKey()));
        Message.PairCommit commit =
                await("commitment", message -> asA(Message.PairCommit.class, message));
        KeyPin agent = keyOf(commit);
        String nonce = PairingCode.nonce();
        send(new Message.PairNonce(nonce));
        Message.PairReveal reveal =
                await("nonce", message -> asA(Message.PairReveal.class, message));
        if (!PairingCode.commitment(agent, own.pin(), reveal.nonce()).equals(commit.commitment())) {
            throw new LinkException(
                    "the other end did not keep to its commitment: somebody may sit in between."
                            + " Nothing was paired");
        }
        person.compare(PairingCode.code(agent, own.pin(), reveal.nonce(), nonce));
        Message.PairResult result = awaitPeople(person);
        if (result.role().isEmpty() || result.name().isEmpty()) {
            throw new LinkException(result.outcome().words());
        }
        try {
            return new Paired(agent, new AgentName(result.name().get()), result.role().get());
        } catch (IllegalArgumentException e) {
            throw new LinkException(
                    "the agent has a name that can't be used: " + e.getMessage(), e);
        }
    }

    private KeyPin keyOf(Message.PairCommit commit) throws LinkException {
        Optional<KeyPin> shown = SignedCommands.pinOf(commit.key());
        if (shown.isEmpty() || link.peerKey().filter(key -> !key.equals(shown.get())).isPresent()) {
            throw new LinkException(
                    "the other end showed a key that is not its own. Nothing was paired");
        }
        return shown.get();
    }

    private Message.PairResult awaitPeople(Person person) throws LinkException {
        long begin = clock.nanos();
        long heardNanos = begin;
        boolean hasAnswered = false;
        while (clock.nanos() - begin < PEOPLE_TIME_MAX.toNanos()) {
            Optional<Boolean> answer = hasAnswered ? Optional.empty() : person.answer();
            if (answer.isPresent()) {
                hasAnswered = true;
                send(new Message.PairConfirm(answer.get()));
            }
            Optional<Message> message = receive();
            if (message.isPresent()) {
                heardNanos = clock.nanos();
                if (message.get() instanceof Message.PairResult result) {
                    return result;
                }
            } else if (clock.nanos() - heardNanos > Session.DEAD_AFTER.toNanos()) {
                throw new LinkException(
                        "it said nothing for " + Session.DEAD_AFTER.toSeconds() + " s");
            }
        }
        throw new LinkException("nobody said yes in " + PEOPLE_TIME_MAX.toMinutes() + " minutes");
    }

    @FunctionalInterface
    private interface Wanted<T> {
        Optional<T> in(Message message);
    }

    private static <T> Optional<T> asA(Class<T> type, Message message) {
        return type.isInstance(message) ? Optional.of(type.cast(message)) : Optional.empty();
    }

    /** Waits for a message; on a line that is in use, others come in between. */
    private <T> T await(String what, Wanted<T> wanted) throws LinkException {
        long begin = clock.nanos();
        while (clock.nanos() - begin < ANSWER_TIME_MAX.toNanos()) {
            Optional<Message> message = receive();
            if (message.isPresent() && message.get() instanceof Message.PairResult result) {
                throw new LinkException(result.outcome().words());
            }
            Optional<T> found = message.flatMap(wanted::in);
            if (found.isPresent()) {
                return found.get();
            }
        }
        throw new LinkException(
                "no "
                        + what
                        + " came within "
                        + ANSWER_TIME_MAX.toSeconds()
                        + " s: is it an agent, and does evenwarm-agent pair run there?");
    }

    private Optional<Message> receive() throws LinkException {
        if (clock.nanos() - lastSentNanos > Session.KEEP_ALIVE.toNanos()) {
            send(new Message.KeepAlive());
        }
        Optional<Message> message = link.receive(POLL);
        if (message.isPresent() && message.get() instanceof Message.Goodbye goodbye) {
            throw new LinkException("it said goodbye: " + goodbye.reason());
        }
        return message;
    }

    private void send(Message message) throws LinkException {
        link.send(message);
        lastSentNanos = clock.nanos();
    }
}
