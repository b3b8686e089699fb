package io.evenwarm.monitor.intake;

import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.codec.MessageCodec;
import io.evenwarm.link.AgentProof;
import io.evenwarm.link.KeyPin;
import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.Message;
import java.time.Duration;
import java.util.List;
import java.util.Optional;

/** Asks whether an agent is at the other end of a line. One thread; for one use. */
public final class LineCall {

    private static final Duration POLL = Duration.ofMillis(200);

    private final Link link;
    private final MonotonicClock clock;

    /**
     * @param link over a line at which anything may be
     */
    public LineCall(Link link, MonotonicClock clock) {
        this.link = link;
        this.clock = clock;
    }

    /**
     * Who answered.
     *
     * @param name as it calls itself; empty when that is no agent's name
     * @param program its name and version
     * @param key which it has proved; empty when it has proved none
     */
    public record Answer(Optional<AgentName> name, String program, Optional<KeyPin> key) {}

    /**
     * Says hello and waits for the agent's.
     *
     * @param monitorName what this monitor calls itself
     * @param program this program's name and version
     * @param time to wait for an answer
     * @return empty when no agent answered in that time
     * @throws LinkException when the line is or gets lost
     */
    public Optional<Answer> whoIsThere(String monitorName, String program, Duration time)
            throws LinkException {
        String nonce = AgentProof.nonce();
        link.send(
                new Message.Hello(
                        List.of(MessageCodec.VERSION),
                        Message.Hello.Side.MONITOR,
                        monitorName,
                        program,
                        1,
                        Optional.of(nonce),
                        Optional.empty()));
        long deadlineNanos = clock.nanos() + time.toNanos();
        while (clock.nanos() < deadlineNanos) {
            if (link.receive(POLL).orElse(null) instanceof Message.Hello hello
                    && hello.side() == Message.Hello.Side.AGENT) {
                return Optional.of(
                        new Answer(
                                name(hello.name()),
                                hello.program(),
                                hello.proof()
                                        .filter(proof -> AgentProof.holds(proof, nonce))
                                        .flatMap(AgentProof::claimed)));
            }
        }
        return Optional.empty();
    }

    private static Optional<AgentName> name(String text) {
        try {
            return Optional.of(new AgentName(text));
        } catch (IllegalArgumentException e) {
            // Not to be shown: it may hold anything, a terminal's control characters for one.
            return Optional.empty();
        }
    }
}
