package io.evenwarm.agent.app;

import io.evenwarm.codec.JsonText;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Message;
import io.evenwarm.quantity.TemperatureUnit;
import java.io.PrintWriter;
import java.util.LinkedHashMap;
import java.util.List;
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

    @Option(names = "--json", description = "print one JSON object; its temperatures are in °C")
    private boolean json;

    @Option(
            names = "--unit",
            defaultValue = "CELSIUS",
            paramLabel = "UNIT",
            description = "celsius (usual) or fahrenheit")
    private TemperatureUnit unit;

    @Override
    public Integer call() {
        PrintWriter out = spec.commandLine().getOut();
        return LocalTalk.talk(
                agent,
                spec.commandLine().getErr(),
                client -> {
                    List<CabinetSnapshot> cabinets = client.status();
                    if (json) {
                        out.println(JsonText.object(asMap(client.agent(), cabinets)));
                    } else {
                        StatusText text = new StatusText(unit);
                        out.println(text.agent(client.agent()));
                        cabinets.forEach(cabinet -> out.print(text.cabinet(cabinet)));
                    }
                    return ExitCode.DONE;
                });
    }

    private static Map<String, Object> asMap(Message.Hello hello, List<CabinetSnapshot> cabinets) {
        Map<String, Object> object = new LinkedHashMap<>();
        object.put("agent", hello.name());
        object.put("program", hello.program());
        object.put("clockRate", hello.clockRate());
        object.put("cabinets", cabinets.stream().map(StatusJson::cabinet).toList());
        return object;
    }
}
