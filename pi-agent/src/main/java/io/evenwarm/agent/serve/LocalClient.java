package io.evenwarm.agent.serve;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.codec.MessageCodec;
import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.LocalLinks;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.Message;
import io.evenwarm.message.PreviousRun;
import io.evenwarm.message.Role;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/**
 * Asks the agent that runs on this machine. One thread; close it when done.
 *
 * <p>Every error is a {@link LinkException} whose message can be shown to a person.
 */
public final class LocalClient implements AutoCloseable {

    private static final System.Logger LOG = System.getLogger(LocalClient.class.getName());
    private static final Duration ANSWER = Duration.ofSeconds(5);
    private static final Duration LOOK = Duration.ofMillis(200);

    private final Link link;
    private final MonotonicClock clock;
    private final Message.Hello agent;
    private long lastId;
    private long lastSentNanos;

    private LocalClient(Link link, MonotonicClock clock, String program) throws LinkException {
        this.link = link;
        this.clock = clock;
        link.send(
                new Message.Hello(
                        List.of(MessageCodec.VERSION),
                        Message.Hello.Side.LOCAL,
                        "command",
                        program,
                        1));
        this.agent =
                await(
                        message ->
                                message instanceof Message.Hello hello
                                        ? Optional.of(hello)
                                        : Optional.empty());
    }

    /**
     * Connects to the agent whose local socket is {@code socket}.
     *
     * @param program name and version of this program
     * @throws LinkException when no agent answers there
     */
    public static LocalClient connect(Path socket, String program, MonotonicClock clock)
            throws LinkException {
        Link link;
        try {
            link = LocalLinks.connect(socket);
        } catch (LinkException e) {
            throw new LinkException(
                    "no agent answers: "
                            + e.getMessage()
                            + ". Start it with: evenwarm-agent run --config FILE",
                    e);
        }
        return over(link, program, clock);
    }

    /** Talks over a link that is there, and closes it at the end. */
    static LocalClient over(Link link, String program, MonotonicClock clock) throws LinkException {
        try {
            return new LocalClient(link, clock, program);
        } catch (LinkException e) {
            link.close();
            throw e;
        }
    }

    /** How the agent introduced itself: name, program, clock rate. */
    public Message.Hello agent() {
        return agent;
    }

    /**
     * How all is.
     *
     * @param cabinets every cabinet's newest snapshot, in the order of the agent's configuration
     * @param troubles each place where monitors should connect and can't, and why
     * @param previousRun how the agent's run before this one ended
     * @param clock whether the agent's wall clock is right, and who says so
     */
    public record Status(
            List<CabinetSnapshot> cabinets,
            List<String> troubles,
            Optional<PreviousRun> previousRun,
            Optional<String> clock) {

        public Status {
            cabinets = List.copyOf(cabinets);
            troubles = List.copyOf(troubles);
        }
    }

    /** How the agent's cabinets are, and whether monitors can reach it. */
    public Status status() throws LinkException {
        link.send(new Message.StatusRequest());
        List<CabinetSnapshot> snapshots = new ArrayList<>();
        Message.StatusEnd end =
                await(
                        message -> {
                            if (message instanceof Message.Live live) {
                                snapshots.add(live.snapshot());
                            }
                            return message instanceof Message.StatusEnd last
                                    ? Optional.of(last)
                                    : Optional.empty();
                        });
        return new Status(
                snapshots, end.troubles().orElse(List.of()), end.previousRun(), end.clock());
    }

    /** Has a command done, and waits for what became of it. */
    public CommandOutcome ask(Command command) throws LinkException {
        long id = ++lastId;
        link.send(new Message.CommandRequest(id, command));
        return await(
                message ->
                        message instanceof Message.CommandAnswer answer && answer.id() == id
                                ? Optional.of(answer.outcome())
                                : Optional.empty());
    }

    /** Asks that monitors may be paired from now on, until this is closed. */
    public void openPairing(Role role) throws LinkException {
        link.send(new Message.PairOpen(role));
    }

    /** Says whether the digits that were shown last are those of the monitor. */
    public void confirmPairing(boolean accepted) throws LinkException {
        link.send(new Message.PairConfirm(accepted));
    }

    /**
     * The next news of pairing; empty when there is none for a moment. To be called again and
     * again: it also tells the agent that this command lives.
     */
    public Optional<Message.PairState> pairingNews() throws LinkException {
        if (clock.nanos() - lastSentNanos > Session.KEEP_ALIVE_NANOS) {
            lastSentNanos = clock.nanos();
            link.send(new Message.KeepAlive());
        }
        Optional<Message> message = link.receive(LOOK);
        if (message.isPresent() && message.get() instanceof Message.Goodbye goodbye) {
            throw new LinkException("the agent ended the talk: " + goodbye.reason());
        }
        return message.flatMap(
                each ->
                        each instanceof Message.PairState state
                                ? Optional.of(state)
                                : Optional.empty());
    }

    private <T> T await(Function<Message, Optional<T>> wanted) throws LinkException {
        long begin = clock.nanos();
        while (clock.nanos() - begin < ANSWER.toNanos()) {
            Optional<Message> message = link.receive(LOOK);
            if (message.isPresent() && message.get() instanceof Message.Goodbye goodbye) {
                throw new LinkException("the agent ended the talk: " + goodbye.reason());
            }
            Optional<T> found = message.flatMap(wanted);
            if (found.isPresent()) {
                return found.get();
            }
        }
        throw new LinkException(
                "the agent did not answer within "
                        + ANSWER.toSeconds()
                        + " s: it may hang. Look at its log");
    }

    @Override
    public void close() {
        try {
            link.send(new Message.Goodbye("done"));
        } catch (LinkException e) {
            LOG.log(System.Logger.Level.DEBUG, "no goodbye: {0}", e.getMessage());
        }
        link.close();
    }
}
