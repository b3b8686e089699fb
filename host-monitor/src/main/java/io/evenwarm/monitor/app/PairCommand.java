package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.link.Identity;
import io.evenwarm.link.Link;
import io.evenwarm.link.LinkException;
import io.evenwarm.link.PairingCode;
import io.evenwarm.link.SerialLinks;
import io.evenwarm.link.TlsLinks;
import io.evenwarm.message.Role;
import io.evenwarm.monitor.intake.PairingCall;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.PrintStream;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.Callable;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm agents pair}. */
@Command(
        name = "pair",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description = {
            "Pairs this monitor with an agent at which evenwarm-agent pair runs.",
            "Both show six digits; say yes here and there if they are the same. Then each knows the"
                    + " other's key, and the agent stands in the settings.",
            "1 when it was not paired."
        })
final class PairCommand implements Callable<Integer> {

    /** What the examples in docs/configuration.md use. */
    private static final int USUAL_PORT = 4770;

    private static final Duration CONNECT_TIME_MAX = Duration.ofSeconds(10);
    private static final Pattern ADDRESS =
            Pattern.compile("(?:\\[([0-9A-Fa-f:.%a-z]+)]|([A-Za-z0-9.-]+))(?::(\\d{1,5}))?");
    private static final Pattern SERIAL = Pattern.compile("/.+|COM\\d+");

    @ParentCommand private @Nullable AgentsCommand agents;

    @Parameters(
            paramLabel = "ADDRESS",
            description =
                    "the agent's host or address, with :port unless that is "
                            + USUAL_PORT
                            + "; or a serial port's path")
    private String address = "";

    @Option(
            names = "--baud",
            paramLabel = "N",
            description = "of a serial port; by default ${DEFAULT-VALUE}")
    private int baud = SettingsReader.DEFAULT_BAUD;

    private final InputStream input;

    PairCommand() {
        this(System.in);
    }

    PairCommand(InputStream input) {
        this.input = input;
    }

    @Override
    public Integer call() throws IOException {
        Evenwarm program = Parents.of(agents).program();
        PrintStream err = program.output().err();
        Optional<MonitorSettings> settings = program.settingsOrUsual();
        if (settings.isEmpty()) {
            return Evenwarm.BAD_INPUT;
        }
        Matcher tls = ADDRESS.matcher(address);
        boolean isSerial = SERIAL.matcher(address).matches();
        int port =
                tls.matches() && tls.group(3) != null ? Integer.parseInt(tls.group(3)) : USUAL_PORT;
        if (!isSerial && (!tls.matches() || port < 1 || port > 65_535)) {
            err.println(
                    "evenwarm: give a host or an address, with :port unless that is "
                            + USUAL_PORT
                            + ", or a serial port's path; found \""
                            + address
                            + "\"");
            return Evenwarm.BAD_INPUT;
        }
        Identity own = Evenwarm.identity(settings.get());
        try {
            if (isSerial) {
                try (Link link = SerialLinks.open(address, baud)) {
                    PairingCall.Paired paired = pair(link, own, settings.get());
                    return keep(
                            program,
                            paired,
                            new Route.Serial(address, baud, Optional.of(paired.key())));
                }
            }
            String host = tls.group(1) == null ? tls.group(2) : tls.group(1);
            try (Link link =
                    TlsLinks.connectToPair(
                            new InetSocketAddress(host, port), own, CONNECT_TIME_MAX)) {
                PairingCall.Paired paired = pair(link, own, settings.get());
                return keep(program, paired, new Route.Tls(host, port, paired.key()));
            }
        } catch (LinkException e) {
            err.println("evenwarm: " + e.getMessage());
            err.println("At the agent, evenwarm-agent pair must run meanwhile.");
            return Evenwarm.FAILED;
        }
    }

    private PairingCall.Paired pair(Link link, Identity own, MonitorSettings settings)
            throws LinkException {
        PrintStream out = Parents.of(agents).program().output().out();
        return new PairingCall(link, own, SystemClock.monotonic())
                .run(settings.name(), new AtTerminal(out, typed(input)));
    }

    private static int keep(Evenwarm program, PairingCall.Paired paired, Route route)
            throws IOException {
        Optional<String> problem =
                new SettingsAppender(program.settingsPath(), program.folders())
                        .add(paired.name(), route);
        program.output()
                .out()
                .println(
                        "Paired with \""
                                + paired.name()
                                + "\", key "
                                + paired.key()
                                + ": this monitor may "
                                + (paired.role() == Role.OPERATE ? "operate." : "look."));
        if (problem.isPresent()) {
            program.output().err().println("evenwarm: " + problem.get());
            return Evenwarm.FAILED;
        }
        program.output().out().println("It stands in " + program.settingsPath() + " now.");
        return Evenwarm.OK;
    }

    /** Asks at the terminal; whoever can't be asked says no. */
    private record AtTerminal(PrintStream out, BlockingQueue<String> lines)
            implements PairingCall.Person {
        @Override
        public void compare(String code) {
            // What was typed before the question is no answer to it.
            lines.clear();
            out.println("The agent must show these digits:");
            out.println("    " + PairingCode.spaced(code));
            out.println("Are they the same? yes or no:");
            out.flush();
        }

        @Override
        public Optional<Boolean> answer() {
            return Optional.ofNullable(lines.poll())
                    .map(line -> line.strip().toLowerCase(Locale.ROOT))
                    .map(word -> word.equals("yes") || word.equals("y"));
        }
    }

    private static BlockingQueue<String> typed(InputStream input) {
        BlockingQueue<String> lines = new LinkedBlockingQueue<>(16);
        Thread reader =
                new Thread(
                        () -> {
                            try (BufferedReader in =
                                    new BufferedReader(
                                            new InputStreamReader(input, StandardCharsets.UTF_8))) {
                                String line = in.readLine();
                                while (line != null && lines.offer(line)) {
                                    line = in.readLine();
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
}
