package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.link.KeyPin;
import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.SerialLinks;
import io.evenwarm.message.AgentName;
import io.evenwarm.monitor.app.MonitorSettings.AgentEntry;
import io.evenwarm.monitor.intake.LineCall;
import io.evenwarm.nearby.Nearby;
import io.evenwarm.nearby.NearbyAgent;
import io.evenwarm.settings.HostAndPort;
import java.io.IOException;
import java.io.PrintStream;
import java.net.InetSocketAddress;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm agents find}. */
@Command(
        name = "find",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description = {
            "Looks for agents on the local network, and at serial ports if asked to.",
            "An agent shows itself on the network while evenwarm-agent pair runs there, or always"
                    + " if its configuration says so.",
            "1 when none was found."
        })
final class FindCommand implements Callable<Integer> {

    private static final int SECONDS_MAX = 60;
    private static final Duration LINE_TIME = Duration.ofSeconds(3);

    @ParentCommand private @Nullable AgentsCommand agents;

    @Option(
            names = "--seconds",
            paramLabel = "N",
            description = "how long to look, 1 to 60; by default ${DEFAULT-VALUE}")
    private int seconds = 6;

    @Option(
            names = "--serial",
            description =
                    "ask who is at each serial port, too. Whatever else is there gets some octets"
                            + " that it does not know")
    private boolean serial;

    @Option(
            names = "--port",
            paramLabel = "PATH",
            description = "ask at this serial port, listed or not; may be given again")
    private List<String> ports = new ArrayList<>();

    @Option(
            names = "--baud",
            paramLabel = "N",
            description = "of serial ports; by default ${DEFAULT-VALUE}")
    private int baud = SettingsReader.DEFAULT_BAUD;

    @Option(names = "--json", description = "print one JSON object")
    private boolean asJson;

    /** One way to an agent. */
    private record Found(
            String where, Optional<KeyPin> key, Optional<String> name, Optional<AgentEntry> known) {

        String words() {
            String who = name.map(text -> "agent \"" + text + "\"").orElse("an agent");
            String proved = key.map(pin -> ", key " + pin).orElse(", which proves no key");
            return where
                    + ": "
                    + who
                    + proved
                    + known.map(this::knownWords)
                            .orElse(
                                    ". Not in the settings; to pair: evenwarm agents pair "
                                            + where);
        }

        private String knownWords(AgentEntry entry) {
            String there = entry.route().where();
            return ". In the settings as \""
                    + entry.name()
                    + "\""
                    + (there.equals(where) ? "" : ", but at " + there);
        }

        String json() {
            return Json.object(
                    Json.member("where", Json.text(where)),
                    Json.member("key", Json.text(key.map(Object::toString))),
                    Json.member("name", Json.text(name)),
                    Json.member(
                            "inSettingsAs", Json.text(known.map(entry -> entry.name().value()))),
                    Json.member(
                            "settingsSay", Json.text(known.map(entry -> entry.route().where()))));
        }
    }

    @Override
    public Integer call() throws IOException {
        Evenwarm program = Parents.of(agents).program();
        PrintStream err = program.output().err();
        if (seconds < 1 || seconds > SECONDS_MAX) {
            err.println("evenwarm: --seconds takes 1 to " + SECONDS_MAX + "; found " + seconds);
            return Evenwarm.BAD_INPUT;
        }
        Optional<MonitorSettings> settings = program.settingsOrUsual();
        if (settings.isEmpty()) {
            return Evenwarm.BAD_INPUT;
        }
        List<Found> found = new ArrayList<>(atNetwork(settings.get(), err));
        for (String port : portsToAsk()) {
            atLine(port, settings.get(), err).ifPresent(found::add);
        }
        if (asJson) {
            program.output()
                    .out()
                    .println(
                            Json.object(
                                    Json.member(
                                            "found",
                                            Json.array(found.stream().map(Found::json).toList()))));
        } else {
            found.forEach(each -> program.output().out().println(each.words()));
        }
        if (found.isEmpty()) {
            err.println(
                    "evenwarm: no agent was found. An agent shows itself on the network while"
                            + " evenwarm-agent pair runs there"
                            + (serial || !ports.isEmpty()
                                    ? "."
                                    : "; --serial asks at serial ports, too."));
            return Evenwarm.FAILED;
        }
        return Evenwarm.OK;
    }

    private List<Found> atNetwork(MonitorSettings settings, PrintStream err) {
        try {
            return Nearby.look(Duration.ofSeconds(seconds)).stream()
                    .flatMap(
                            agent ->
                                    agent.addresses().stream()
                                            .map(address -> found(agent, address, settings)))
                    .toList();
        } catch (IOException e) {
            err.println("evenwarm: the network: " + e.getMessage());
            return List.of();
        }
    }

    private static Found found(
            NearbyAgent agent, InetSocketAddress address, MonitorSettings settings) {
        String where =
                new HostAndPort(address.getAddress().getHostAddress(), address.getPort())
                        .toString();
        return new Found(
                where, Optional.of(agent.key()), Optional.empty(), known(agent.key(), settings));
    }

    private static Optional<AgentEntry> known(KeyPin key, MonitorSettings settings) {
        return settings.agents().stream()
                .filter(
                        entry ->
                                entry.route()
                                        .fold(
                                                tls -> tls.key().equals(key),
                                                line -> line.key().equals(Optional.of(key))))
                .findFirst();
    }

    private List<String> portsToAsk() {
        List<String> all = new ArrayList<>(ports);
        if (serial) {
            SerialLinks.ports().stream().filter(port -> !ports.contains(port)).forEach(all::add);
        }
        return all;
    }

    /** A port in use is not an error: most likely a monitor is at it, or another program. */
    private Optional<Found> atLine(String port, MonitorSettings settings, PrintStream err) {
        try (Link link = SerialLinks.open(port, baud)) {
            return new LineCall(link, SystemClock.monotonic())
                    .whoIsThere(settings.name(), "evenwarm " + Version.text(), LINE_TIME)
                    .map(
                            answer ->
                                    new Found(
                                            port,
                                            answer.key(),
                                            answer.name().map(AgentName::value),
                                            answer.key().flatMap(key -> known(key, settings))));
        } catch (LinkException e) {
            err.println("evenwarm: " + e.getMessage());
            return Optional.empty();
        }
    }
}
