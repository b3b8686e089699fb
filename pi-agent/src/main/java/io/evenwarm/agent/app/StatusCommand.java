package io.evenwarm.agent.app;

import io.evenwarm.agent.serve.LocalClient;
import io.evenwarm.codec.JsonText;
import io.evenwarm.message.Message;
import java.io.PrintWriter;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code status}. */
@Command(
        name = "status",
        description = {"Tells how the running agent's cabinets are.", "1 when no agent answers."})
final class StatusCommand implements Callable<Integer> {

    @Spec private CommandSpec spec;
    @Mixin private AgentChoice agent;
    @Mixin private UnitChoice unit;

    @Option(names = "--json", description = "print one JSON object; its temperatures are in °C")
    private boolean json;

    @Override
    public Integer call() {
        PrintWriter out = spec.commandLine().getOut();
        return LocalTalk.talk(
                agent,
                spec.commandLine().getErr(),
                client -> {
                    LocalClient.Status status = client.status();
                    if (json) {
                        out.println(JsonText.object(asMap(client.agent(), status)));
                    } else {
                        StatusText text = new StatusText(unit.unit());
                        out.println(text.agent(client.agent()));
                        status.troubles().forEach(trouble -> out.println("! monitors: " + trouble));
                        status.clock().ifPresent(words -> out.println("clock: " + words));
                        status.previousRun()
                                .ifPresent(run -> out.println(StatusText.previousRun(run)));
                        status.cabinets().forEach(cabinet -> out.print(text.cabinet(cabinet)));
                    }
                    return ExitCode.DONE;
                });
    }

    private static Map<String, Object> asMap(Message.Hello hello, LocalClient.Status status) {
        Map<String, Object> object = new LinkedHashMap<>();
        object.put("agent", hello.name());
        object.put("program", hello.program());
        object.put("clockRate", hello.clockRate());
        object.put("monitorTroubles", status.troubles());
        object.put("clock", status.clock());
        object.put("previousRun", status.previousRun().map(StatusJson::previousRun));
        object.put("cabinets", status.cabinets().stream().map(StatusJson::cabinet).toList());
        return object;
    }
}
