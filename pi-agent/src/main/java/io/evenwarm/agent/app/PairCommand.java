package io.evenwarm.agent.app;

import io.evenwarm.agent.durable.FilePairedMonitors;
import io.evenwarm.agent.port.PairedMonitors.Paired;
import io.evenwarm.agent.serve.LocalClient;
import io.evenwarm.agent.serve.PairingDesk;
import io.evenwarm.codec.JsonText;
import io.evenwarm.link.KeyPin;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.PairingCode;
import io.evenwarm.message.Message;
import io.evenwarm.message.Role;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.Callable;
import java.util.concurrent.LinkedBlockingQueue;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code pair}. */
@Command(
        name = "pair",
        description = {
            "Lets a monitor be paired with the running agent: for 5 minutes and 5 tries, and only"
                    + " while this command runs. At the monitor: evenwarm agents pair.",
            "Both show six digits. Say yes here and there if they are the same.",
            "1 when none was paired or the agent does not answer."
        })
final class PairCommand implements Callable<Integer> {

    @Spec private CommandSpec spec;
    @Mixin private AgentChoice agent;

    @Option(
            names = "--role",
            paramLabel = "ROLE",
            defaultValue = "OPERATE",
            description = "look or operate: what the monitor may do; operate when not given")
    private Role role;

    @Option(names = "--list", description = "list the monitors that were paired instead")
    private boolean list;

    @Option(
            names = "--remove",
            paramLabel = "KEY",
            description = "forget a monitor instead, by its key or the beginning of it")
    private Optional<String> remove = Optional.empty();

    @Option(names = "--json", description = "with --list: print one JSON object")
    private boolean json;

    @Override
    public Integer call() throws IOException {
        PrintWriter err = spec.commandLine().getErr();
        if ((list && remove.isPresent()) || (json && !list)) {
            err.println("evenwarm-agent: --list, --remove and pairing are three things: say one");
            return ExitCode.BAD_INPUT;
        }
        Optional<String> fault = agent.fault();
        if (fault.isPresent()) {
            err.println("evenwarm-agent: " + fault.get());
            return ExitCode.BAD_INPUT;
        }
        try {
            if (list) {
                return list(agent.stateFolder());
            }
            if (remove.isPresent()) {
                return remove(agent.stateFolder(), remove.get());
            }
        } catch (IOException e) {
            err.println("evenwarm-agent: the paired monitors: " + Failures.words(e));
            return ExitCode.NO;
        }
        return LocalTalk.talk(agent, err, this::pair);
    }

    private int list(Path folder) throws IOException {
        List<String> problems = new ArrayList<>();
        List<Paired> all = new FilePairedMonitors(folder).list(problems);
        PrintWriter out = spec.commandLine().getOut();
        if (json) {
            out.println(
                    JsonText.object(
                            Map.of("monitors", all.stream().map(PairCommand::asMap).toList())));
        } else if (all.isEmpty()) {
            out.println("no monitor was paired; those in the configuration are not listed here");
        }
        if (!json) {
            all.forEach(
                    each ->
                            out.println(
                                    each.name()
                                            + ": "
                                            + word(each.role())
                                            + ", key "
                                            + each.key()));
        }
        problems.forEach(each -> spec.commandLine().getErr().println("evenwarm-agent: " + each));
        return problems.isEmpty() ? ExitCode.DONE : ExitCode.NO;
    }

    private static Map<String, Object> asMap(Paired monitor) {
        Map<String, Object> map = new LinkedHashMap<>();
        map.put("name", monitor.name());
        map.put("role", word(monitor.role()));
        map.put("key", monitor.key().toString());
        return map;
    }

    private int remove(Path folder, String wanted) throws IOException {
        FilePairedMonitors paired = new FilePairedMonitors(folder);
        String begin = wanted.strip().toLowerCase(Locale.ROOT);
        List<KeyPin> found =
                paired.list(new ArrayList<>()).stream()
                        .map(Paired::key)
                        .filter(
                                key ->
                                        !begin.isEmpty()
                                                && (key.toString().startsWith(begin)
                                                        || key.sha256Hex().startsWith(begin)))
                        .toList();
        if (found.size() != 1) {
            spec.commandLine()
                    .getErr()
                    .println(
                            "evenwarm-agent: "
                                    + (found.isEmpty() ? "no" : "more than one")
                                    + " paired monitor has a key that begins so: see --list."
                                    + " Monitors in the configuration are taken out there");
            return ExitCode.NO;
        }
        paired.remove(found.get(0));
        spec.commandLine().getOut().println("forgotten: " + found.get(0));
        return ExitCode.DONE;
    }

    private int pair(LocalClient client) throws LinkException {
        PrintWriter out = spec.commandLine().getOut();
        client.openPairing(role);
        out.println(
                "Monitors may be paired for "
                        + PairingDesk.OPEN_SECONDS / 60
                        + " minutes, to "
                        + word(role)
                        + ". At the monitor: evenwarm agents pair ADDRESS. Ctrl-C ends it.");
        out.flush();
        BlockingQueue<String> typed = typed();
        boolean isAsking = false;
        while (true) {
            Optional<Message.PairState> news = client.pairingNews();
            if (news.isPresent()) {
                Message.PairState state = news.get();
                boolean asksNow = state.code().isPresent() && !isAsking;
                isAsking = state.code().isPresent();
                if (asksNow) {
                    // What was typed before the question is no answer to it.
                    typed.clear();
                    question(out, state);
                } else {
                    out.println(state.words());
                }
                out.flush();
                if (!state.open()) {
                    return state.paired() ? ExitCode.DONE : ExitCode.NO;
                }
            }
            String line = typed.poll();
            if (line != null && isAsking) {
                client.confirmPairing(isYes(line));
            }
        }
    }

    private static void question(PrintWriter out, Message.PairState state) {
        out.println(
                "Monitor \""
                        + state.monitor().orElse("")
                        + "\" with key "
                        + state.key().orElse("")
                        + " asks. It must show these digits:");
        out.println("    " + PairingCode.spaced(state.code().orElse("")));
        out.println("Are they the same? yes or no:");
    }

    private static boolean isYes(String line) {
        String word = line.strip().toLowerCase(Locale.ROOT);
        return word.equals("yes") || word.equals("y");
    }

    /** What a person types, line by line; a reader of its own, so that the agent is heard too. */
    private static BlockingQueue<String> typed() {
        BlockingQueue<String> lines = new LinkedBlockingQueue<>(16);
        Thread reader =
                new Thread(
                        () -> {
                            try (BufferedReader in =
                                    new BufferedReader(
                                            new InputStreamReader(
                                                    System.in, StandardCharsets.UTF_8))) {
                                String line = in.readLine();
                                while (line != null) {
                                    // A flood of lines is nobody's answer.
                                    boolean kept = lines.offer(line);
                                    line = kept ? in.readLine() : null;
                                }
                            } catch (IOException e) {
                                System.getLogger(PairCommand.class.getName())
                                        .log(System.Logger.Level.DEBUG, "input", e);
                            }
                        },
                        "input");
        reader.setDaemon(true);
        reader.start();
        return lines;
    }

    private static String word(Role role) {
        return role.name().toLowerCase(Locale.ROOT);
    }
}
