package io.evenwarm.agent.app;

import io.evenwarm.agent.serve.LocalClient;
import io.evenwarm.clock.SystemClock;
import io.evenwarm.codec.JsonText;
import io.evenwarm.link.LinkException;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import java.io.PrintWriter;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import picocli.CommandLine;

/** What the commands share that talk to the running agent. */
final class LocalTalk {

    private LocalTalk() {}

    /** What to do with an agent that answers. */
    @FunctionalInterface
    interface Talk {
        int with(LocalClient client) throws LinkException;
    }

    /** Connects, talks, and says in words why that could not be. */
    static int talk(AgentChoice choice, PrintWriter err, Talk talk) {
        Optional<String> fault = choice.fault();
        if (fault.isPresent()) {
            err.println("evenwarm-agent: " + fault.get());
            return ExitCode.BAD_INPUT;
        }
        try (LocalClient client =
                LocalClient.connect(
                        choice.socket(),
                        "evenwarm-agent " + AgentCommand.Version.text(),
                        SystemClock.monotonic())) {
            return talk.with(client);
        } catch (LinkException e) {
            err.println("evenwarm-agent: " + e.getMessage());
            return ExitCode.NO;
        }
    }

    /** Has one cabinet's command done and prints what became of it. */
    static int command(
            CommandLine commandLine,
            AgentChoice choice,
            String cabinet,
            boolean json,
            Function<CabinetName, Command> command) {
        CabinetName name;
        try {
            name = new CabinetName(cabinet);
        } catch (IllegalArgumentException e) {
            commandLine.getErr().println("evenwarm-agent: " + e.getMessage());
            return ExitCode.BAD_INPUT;
        }
        return talk(
                choice,
                commandLine.getErr(),
                client -> {
                    CommandOutcome outcome = client.ask(command.apply(name));
                    boolean done = outcome.fold(yes -> true, no -> false);
                    if (json) {
                        Map<String, Object> object = new LinkedHashMap<>();
                        object.put("cabinet", cabinet);
                        object.put("done", done);
                        object.put("words", outcome.words());
                        commandLine.getOut().println(JsonText.object(object));
                    } else if (done) {
                        commandLine.getOut().println(outcome.words());
                    } else {
                        commandLine.getErr().println("evenwarm-agent: " + outcome.words());
                    }
                    return done ? ExitCode.DONE : ExitCode.NO;
                });
    }
}
