package io.evenwarm.agent.serve;

import static io.evenwarm.agent.Snapshots.cabinet;
import static io.evenwarm.agent.Snapshots.celsius;

import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.message.Command;
import io.evenwarm.message.JournalRecord;
import io.evenwarm.message.Message;
import io.evenwarm.message.Message.Hello;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** A monitor that does one thing after another and notes each answer. */
final class ScriptedMonitor {

    /** Long enough for a busy machine; an answer comes within milliseconds. */
    private static final Duration PATIENCE = Duration.ofSeconds(20);

    private final Link link;
    private final List<String> exchange = new ArrayList<>();

    ScriptedMonitor(Link link) {
        this.link = link;
    }

    /**
     * A whole session, from hello to goodbye, on an agent of which nothing was shown yet. What
     * depends on the moment or the line is left out: keep-alives, the time, a challenge, the
     * journal's random name, and where one batch ends and the next begins.
     */
    static List<String> wholeSession(AgentRig agent, Link link) throws LinkException {
        ScriptedMonitor monitor = new ScriptedMonitor(link);
        monitor.greet();
        agent.show("north", 1);
        monitor.note(monitor.next());
        agent.journalTicks(400);
        monitor.fetchHistory(0, agent.journal().lastCommittedSequence());
        monitor.ask(1, new Command.SetSetPoint(cabinet("north"), celsius(30.25)));
        monitor.ask(2, new Command.ResetCutOff(cabinet("south")));
        agent.show("south", 2);
        monitor.note(monitor.next());
        link.send(new Message.StatusRequest());
        for (int i = 0; i < 3; i++) {
            monitor.note(monitor.next());
        }
        long had = agent.journal().lastCommittedSequence();
        agent.journalTicks(50);
        monitor.takeHistory(had, agent.journal().lastCommittedSequence());
        agent.show("north", 3);
        monitor.note(monitor.next());
        agent.server().close();
        monitor.note(monitor.next());
        link.close();
        return monitor.exchange;
    }

    void greet() throws LinkException {
        link.send(new Hello(List.of(1), Hello.Side.MONITOR, "desk", "test monitor", 1));
        // On a line, what was meant for the monitor before may still come.
        Message answer = next();
        while (!(answer instanceof Hello)) {
            answer = next();
        }
        note(answer);
    }

    private void ask(long id, Command command) throws LinkException {
        link.send(new Message.CommandRequest(id, command));
        note(next());
    }

    private void fetchHistory(long after, long upTo) throws LinkException {
        link.send(new Message.HistoryRequest(after));
        takeHistory(after, upTo);
    }

    private void takeHistory(long after, long upTo) throws LinkException {
        long last = after;
        while (last < upTo) {
            Message.HistoryBatch batch = (Message.HistoryBatch) next();
            for (JournalRecord each : batch.records()) {
                note(each);
                last = each.sequence();
            }
            link.send(new Message.Acknowledge(last));
        }
    }

    /** The next message that does not depend on the moment. */
    Message next() throws LinkException {
        while (true) {
            Optional<Message> message = link.receive(PATIENCE);
            if (message.isEmpty()) {
                throw new AssertionError("nothing came after " + exchange.size() + " messages");
            }
            if (!(message.get() instanceof Message.KeepAlive
                    || message.get() instanceof Message.Time
                    || message.get() instanceof Message.Challenge)) {
                return message.get();
            }
        }
    }

    private void note(Object happened) {
        exchange.add(happened.toString());
    }
}
