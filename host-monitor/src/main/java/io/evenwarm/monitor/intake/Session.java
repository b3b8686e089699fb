package io.evenwarm.monitor.intake;

import io.evenwarm.codec.MessageCodec;
import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.BootId;
import io.evenwarm.message.Message;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbeSensor;
import io.evenwarm.monitor.live.LiveModel.LinkState;
import java.io.IOException;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.BooleanSupplier;

/** One link's life, from the hello to its loss. Used by the agent's worker only. */
final class Session {

    private static final System.Logger LOG = System.getLogger(Session.class.getName());

    /** The protocol versions that this monitor speaks. */
    private static final List<Integer> VERSIONS = List.of(MessageCodec.VERSION);

    /** Sends something at least this often. */
    static final Duration KEEP_ALIVE = Duration.ofSeconds(5);

    /** An agent that says nothing for so long is not there any more: three keep-alives lost. */
    static final Duration DEAD_AFTER = Duration.ofSeconds(15);

    private static final Duration HELLO_TIME_MAX = Duration.ofSeconds(10);

    private static final Duration HELLO_AGAIN = Duration.ofSeconds(2);

    /** How soon a command that a person gave goes out when the agent says nothing. */
    private static final Duration POLL = Duration.ofMillis(100);

    private final IntakeContext context;
    private final AgentName agent;
    private final Optional<ExpectedProof> proof;
    private final PendingCommands commands;
    private final Link link;
    private final HistoryCatchUp history;
    private final BootId run = new BootId(UUID.randomUUID());
    private double clockRate = 1;
    private long lastSentNanos;
    private String stateWords = "";

    Session(IntakeContext context, AgentAddress address, PendingCommands commands, Link link) {
        this.context = context;
        this.agent = address.name();
        this.proof = address.key().map(ExpectedProof::new);
        this.commands = commands;
        this.link = link;
        history = new HistoryCatchUp(agent, context.history());
    }

    /**
     * Says hello and checks who answers.
     *
     * @throws LinkException when the link is lost, or the other side is not the agent that is meant
     */
    void greet() throws LinkException {
        long begin = context.clock().nanos();
        sayHello();
        while (context.clock().nanos() - begin < HELLO_TIME_MAX.toNanos()) {
            if (context.clock().nanos() - lastSentNanos > HELLO_AGAIN.toNanos()) {
                // Noise may have taken either side's hello.
                sayHello();
            }
            Optional<Message> message = link.receive(POLL);
            if (message.isPresent()) {
                if (message.get() instanceof Message.Hello hello) {
                    check(hello);
                    if (proof.isEmpty() || proof.get().isIn(hello)) {
                        clockRate = hello.clockRate();
                        hello.sensors().ifPresent(this::keepSensors);
                        return;
                    }
                    // It may be an answer to the monitor before; ours may still come.
                }
                if (message.get() instanceof Message.Goodbye goodbye) {
                    throw new LinkException("it refused: " + goodbye.reason());
                }
                // On a serial line what was meant for the monitor before may still come.
            }
        }
        throw new LinkException(
                proof.flatMap(ExpectedProof::trouble)
                        .orElse(
                                "it said no hello within "
                                        + HELLO_TIME_MAX.toSeconds()
                                        + " s: is it an agent?"));
    }

    /** Readings are worth more than what they are worth: a session goes on without this. */
    private void keepSensors(List<ProbeSensor> sensors) {
        try {
            context.history().sensors(agent, sensors, context.wall().now());
        } catch (IOException e) {
            LOG.log(
                    System.Logger.Level.WARNING,
                    "what the probes of {0} are can''t be stored: {1}",
                    agent,
                    e.getMessage());
        }
    }

    private void sayHello() throws LinkException {
        send(
                new Message.Hello(
                        VERSIONS,
                        Message.Hello.Side.MONITOR,
                        context.monitorName(),
                        context.program(),
                        1,
                        proof.map(ExpectedProof::nonce),
                        Optional.empty()));
    }

    private void check(Message.Hello hello) throws LinkException {
        if (hello.side() != Message.Hello.Side.AGENT) {
            throw new LinkException("it is not an agent, but says that it is " + hello.side());
        }
        if (hello.versions().stream().noneMatch(VERSIONS::contains)) {
            throw new LinkException(
                    "it speaks protocol versions "
                            + hello.versions()
                            + ", this monitor "
                            + VERSIONS
                            + ": update the older of the two");
        }
        if (!hello.name().equals(agent.value())) {
            throw new LinkException(
                    "it calls itself \""
                            + hello.name()
                            + "\", the settings say \""
                            + agent
                            + "\": correct the name or the address in the settings");
        }
    }

    /**
     * Passes messages until the link is lost or {@code isStopping}.
     *
     * @param progress runs often while the worker is not stuck
     */
    void run(BooleanSupplier isStopping, Runnable progress) throws LinkException {
        commands.open();
        tellState();
        long heardNanos = context.clock().nanos();
        history.begin(link, heardNanos);
        while (!isStopping.getAsBoolean()) {
            progress.run();
            Optional<Message> message = link.receive(POLL);
            long now = context.clock().nanos();
            if (message.isPresent()) {
                heardNanos = now;
                handle(message.get(), now);
            } else if (now - heardNanos > DEAD_AFTER.toNanos()) {
                throw new LinkException("it said nothing for " + DEAD_AFTER.toSeconds() + " s");
            }
            commands.sendWaiting(link);
            commands.expire(now);
            history.step(link, now);
            tellState();
            if (now - lastSentNanos > KEEP_ALIVE.toNanos()) {
                send(new Message.KeepAlive());
            }
        }
        send(new Message.Goodbye("the monitor ends"));
    }

    private void handle(Message message, long now) throws LinkException {
        if (message instanceof Message.Live live) {
            context.live().received(agent, clockRate, live.snapshot());
        } else if (message instanceof Message.HistoryBatch batch) {
            history.received(link, batch, now);
        } else if (message instanceof Message.CommandAnswer answer) {
            commands.answered(answer);
        } else if (message instanceof Message.Time time) {
            answerTime(time.moment().monotonicNanos());
        } else if (message instanceof Message.Goodbye goodbye) {
            throw new LinkException("it said goodbye: " + goodbye.reason());
        }
        // Anything else is for agents, or from a later version: not ours to judge.
    }

    /**
     * An agent beside its cabinets may have no other way to know the time. One that runs faster
     * than the world has no use for it.
     */
    private void answerTime(long askedMonotonicNanos) throws LinkException {
        if (clockRate != 1) {
            return;
        }
        boolean isTrusted = context.wall().isTrusted();
        Moment now = new Moment(run, context.clock().nanos(), context.wall().now(), isTrusted);
        send(new Message.Time(now, Optional.of(askedMonotonicNanos)));
    }

    private void tellState() {
        String words = history.trouble().map(t -> "connected, but " + t).orElse("connected");
        if (!words.equals(stateWords)) {
            stateWords = words;
            context.live().linkChanged(agent, LinkState.up(words));
        }
    }

    private void send(Message message) throws LinkException {
        link.send(message);
        lastSentNanos = context.clock().nanos();
    }
}
