package io.evenwarm.agent.serve;

import io.evenwarm.agent.port.CommandIntake;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;

/** Takes commands and answers when the test says so, as a control thread does at its next tick. */
final class HeldCommands implements CommandIntake {

    private final List<Command> commands = new ArrayList<>();
    private final List<Consumer<CommandOutcome>> answers = new ArrayList<>();

    @Override
    public synchronized void submit(Command command, Consumer<CommandOutcome> answer) {
        commands.add(command);
        answers.add(answer);
    }

    synchronized List<Command> commands() {
        return List.copyOf(commands);
    }

    /** Answers all that wait. */
    synchronized void answerAll(CommandOutcome outcome) {
        answers.forEach(answer -> answer.accept(outcome));
        answers.clear();
    }
}
