package io.evenwarm.monitor.app;

import io.evenwarm.monitor.app.MonitorSettings.AgentEntry;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm agents}. */
@Command(
        name = "agents",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description = "Lists the agents in the settings.",
        subcommands = {FindCommand.class, PairCommand.class})
final class AgentsCommand implements Callable<Integer> {

    @ParentCommand private @Nullable Evenwarm evenwarm;

    @Option(names = "--json", description = "print one JSON object")
    private boolean asJson;

    Evenwarm program() {
        return Parents.of(evenwarm);
    }

    @Override
    public Integer call() {
        Evenwarm program = program();
        Optional<MonitorSettings> settings = program.settings();
        if (settings.isEmpty()) {
            return Evenwarm.BAD_INPUT;
        }
        List<AgentEntry> agents = settings.get().agents();
        if (asJson) {
            program.output()
                    .out()
                    .println(
                            Json.object(
                                    Json.member(
                                            "agents",
                                            Json.array(
                                                    agents.stream()
                                                            .map(AgentsCommand::json)
                                                            .toList()))));
        } else {
            agents.forEach(agent -> program.output().out().println(line(agent)));
        }
        return Evenwarm.OK;
    }

    private static String line(AgentEntry agent) {
        return agent.name()
                + ": "
                + agent.route()
                        .fold(
                                tls -> tls.where() + ", key " + tls.key(),
                                serial ->
                                        serial.where()
                                                + " at "
                                                + serial.baud()
                                                + " bits a second"
                                                + serial.key()
                                                        .map(key -> ", key " + key)
                                                        .orElse(", no key known"));
    }

    private static String json(AgentEntry agent) {
        String name = Json.member("name", Json.text(agent.name().value()));
        return agent.route()
                .fold(
                        tls ->
                                Json.object(
                                        name,
                                        Json.member("address", Json.text(tls.where())),
                                        Json.member("key", Json.text(tls.key().toString()))),
                        serial ->
                                Json.object(
                                        name,
                                        Json.member("serial", Json.text(serial.where())),
                                        Json.member("baud", Integer.toString(serial.baud())),
                                        Json.member(
                                                "key",
                                                serial.key()
                                                        .map(key -> Json.text(key.toString()))
                                                        .orElse("null"))));
    }
}
