package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.monitor.web.PageAccess;
import io.evenwarm.monitor.web.Visitor;
import io.evenwarm.settings.HostAndPort;
import java.io.IOException;
import java.io.PrintStream;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.ParentCommand;

/** {@code evenwarm page}. */
@Command(
        name = "page",
        mixinStandardHelpOptions = true,
        versionProvider = Version.class,
        description = {
            "Lists who may see the phone page, until when.",
            "The page is served while the monitor runs, if [page] stands in the settings."
        },
        subcommands = {PageCommand.Link.class, PageCommand.Revoke.class})
final class PageCommand implements Callable<Integer> {

    private static final DateTimeFormatter TIME =
            DateTimeFormatter.ofPattern("EEE d MMM yyyy HH:mm zzz", Locale.ENGLISH);

    @ParentCommand private @Nullable Evenwarm evenwarm;

    Evenwarm program() {
        return Parents.of(evenwarm);
    }

    @Override
    public Integer call() throws IOException {
        Optional<MonitorSettings> settings = program().settings();
        if (settings.isEmpty()) {
            return Evenwarm.BAD_INPUT;
        }
        PrintStream out = program().output().out();
        List<PageAccess.Entry> all = PhonePage.access(settings.get()).all(SystemClock.wall().now());
        if (all.isEmpty()) {
            out.println("Nobody may see the page. evenwarm page link NAME makes a link.");
        }
        for (PageAccess.Entry entry : all) {
            out.println(
                    entry.visitor().name()
                            + ": "
                            + (entry.isLink() ? "a link that nobody has opened" : "a session")
                            + ", may "
                            + (entry.visitor().mayAcknowledge() ? "acknowledge" : "look")
                            + ", until "
                            + time(entry.until(), settings.get().zone()));
        }
        return Evenwarm.OK;
    }

    private static String time(Instant when, ZoneId zone) {
        return TIME.format(when.atZone(zone));
    }

    /** {@code evenwarm page link}. */
    @Command(
            name = "link",
            mixinStandardHelpOptions = true,
            versionProvider = Version.class,
            description = {
                "Makes a link for one person and prints it.",
                "It opens once, within a day, and gives their browser a session. Send it only to"
                        + " them: whoever opens it first has it."
            })
    static final class Link implements Callable<Integer> {

        private static final int USUAL_DAYS = 30;

        @ParentCommand private @Nullable PageCommand page;

        @Parameters(paramLabel = "NAME", description = "the person")
        private String name = "";

        @Option(
                names = "--days",
                paramLabel = "N",
                description = "how long the session lasts, 1 to 366; by default ${DEFAULT-VALUE}")
        private int days = USUAL_DAYS;

        @Option(
                names = "--acknowledge",
                description = "the person may acknowledge alarms; without it, only look")
        private boolean acknowledge;

        @Option(
                names = "--host",
                paramLabel = "HOST",
                description =
                        "this machine's name or address as the phone knows it; by default that of"
                                + " [page] address")
        private Optional<String> host = Optional.empty();

        @Override
        public Integer call() throws IOException {
            Evenwarm program = Parents.of(page).program();
            PrintStream err = program.output().err();
            Optional<MonitorSettings> settings = program.settings();
            if (settings.isEmpty()) {
                return Evenwarm.BAD_INPUT;
            }
            if (!PageAccess.NAME.matcher(name).matches()) {
                err.println(
                        "evenwarm: NAME takes 1 to 64 letters, digits, spaces or . _ -, and begins"
                                + " with a letter or digit; found \""
                                + name
                                + "\"");
                return Evenwarm.BAD_INPUT;
            }
            if (days < 1 || days > PageAccess.DAYS_MAX) {
                err.println(
                        "evenwarm: --days takes 1 to " + PageAccess.DAYS_MAX + "; found " + days);
                return Evenwarm.BAD_INPUT;
            }
            Optional<PageSettings> served = settings.get().page();
            if (served.isEmpty()) {
                err.println(
                        "evenwarm: no page is served: put [page] with listen = \"0.0.0.0:8443\" into "
                                + program.settingsPath());
                return Evenwarm.FAILED;
            }
            String where = host.orElse(served.get().host());
            String token =
                    PhonePage.access(settings.get())
                            .link(new Visitor(name, acknowledge), days, SystemClock.wall().now());
            Optional<String> address = host.isPresent() ? Optional.empty() : served.get().address();
            program.output()
                    .out()
                    .println(
                            address.orElse("https://" + new HostAndPort(where, served.get().port()))
                                    + "/enter/"
                                    + token);
            if (host.isEmpty() && address.isEmpty() && where.matches("0\\.0\\.0\\.0|::")) {
                err.println(
                        "Put this machine's name or address in place of "
                                + where
                                + ", or name it with --host.");
            }
            return Evenwarm.OK;
        }
    }

    /** {@code evenwarm page revoke}. */
    @Command(
            name = "revoke",
            mixinStandardHelpOptions = true,
            versionProvider = Version.class,
            description = "Takes a person's links and sessions away, at once.")
    static final class Revoke implements Callable<Integer> {

        @ParentCommand private @Nullable PageCommand page;

        @Parameters(paramLabel = "NAME", description = "the person")
        private String name = "";

        @Override
        public Integer call() throws IOException {
            Evenwarm program = Parents.of(page).program();
            Optional<MonitorSettings> settings = program.settings();
            if (settings.isEmpty()) {
                return Evenwarm.BAD_INPUT;
            }
            int taken = PhonePage.access(settings.get()).revoke(name, SystemClock.wall().now());
            program.output().out().println(taken + " of \"" + name + "\" taken away");
            return taken > 0 ? Evenwarm.OK : Evenwarm.FAILED;
        }
    }
}
