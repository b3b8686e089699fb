package io.evenwarm.agent.app;

import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command.Tune;
import io.evenwarm.message.ControlReport;
import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code tune}. */
@Command(
        name = "tune",
        description = {
            "Finds out how a cabinet answers its heater, and proposes constants for its control.",
            "A test takes 20 minutes of watching and up to half an hour (--step) or three hours"
                    + " (--relay); the guard goes on guarding, and any finding ends it. Without an"
                    + " option: what the last test led to, as text for the configuration.",
            "1 when the agent refuses or does not answer, or there is no result."
        })
final class TuneCommand implements Callable<Integer> {

    @Spec private CommandSpec spec;
    @Mixin private AgentChoice agent;

    @Parameters(paramLabel = "CABINET", description = "the cabinet's name")
    private String cabinet;

    @ArgGroup private What what = new What();

    /** One of these, or none. */
    static final class What {
        @Option(names = "--step", description = "begin a step test")
        private boolean step;

        @Option(names = "--relay", description = "begin a relay-feedback test")
        private boolean relay;

        @Option(names = "--stop", description = "end the test that runs")
        private boolean stop;

        @Option(
                names = "--apply",
                description = "use the last test's constants until the agent is started again")
        private boolean apply;

        @Option(names = "--revert", description = "use the configuration's constants again")
        private boolean revert;

        private Optional<Tune.Action> action() {
            if (step) {
                return Optional.of(Tune.Action.STEP);
            }
            if (relay) {
                return Optional.of(Tune.Action.RELAY);
            }
            if (stop) {
                return Optional.of(Tune.Action.STOP);
            }
            if (apply) {
                return Optional.of(Tune.Action.APPLY);
            }
            return revert ? Optional.of(Tune.Action.REVERT) : Optional.empty();
        }
    }

    @Option(
            names = "--with-eggs",
            description = "test although eggs may be in the cabinet: it moves by up to 1 K")
    private boolean withEggs;

    @Option(names = "--json", description = "print one JSON object")
    private boolean json;

    @Override
    public Integer call() {
        Optional<Tune.Action> action = what.action();
        if (action.isPresent()) {
            return LocalTalk.command(
                    spec.commandLine(),
                    agent,
                    cabinet,
                    json,
                    name -> new Tune(name, action.get(), withEggs));
        }
        PrintWriter out = spec.commandLine().getOut();
        PrintWriter err = spec.commandLine().getErr();
        return LocalTalk.talk(
                agent,
                err,
                client -> {
                    List<CabinetSnapshot> all = client.status().cabinets();
                    Optional<CabinetSnapshot> found =
                            all.stream()
                                    .filter(each -> each.cabinet().value().equals(cabinet))
                                    .findFirst();
                    if (found.isEmpty()) {
                        List<CabinetName> names =
                                all.stream().map(CabinetSnapshot::cabinet).toList();
                        err.println(
                                "evenwarm-agent: there is no cabinet \""
                                        + cabinet
                                        + "\" here. There are: "
                                        + names);
                        return ExitCode.NO;
                    }
                    Optional<ControlReport> report = found.get().control();
                    out.print(text(report));
                    return report.flatMap(ControlReport::tuning)
                                    .flatMap(ControlReport.Tuning::gainPerKelvin)
                                    .isPresent()
                            ? ExitCode.DONE
                            : ExitCode.NO;
                });
    }

    /** What there is to say of tests, with the lines for the configuration as its end. */
    static String text(Optional<ControlReport> report) {
        StringBuilder text = new StringBuilder();
        report.flatMap(ControlReport::activity)
                .ifPresent(words -> text.append("# now: ").append(words).append('\n'));
        Optional<ControlReport.Tuning> last = report.flatMap(ControlReport::tuning);
        if (last.isEmpty()) {
            return text.append("# no test has ended since the agent was started\n").toString();
        }
        ControlReport.Tuning tuning = last.get();
        text.append("# last test: ").append(tuning.method()).append('\n');
        if (tuning.failure().isPresent()) {
            return text.append("# no result: ")
                    .append(tuning.failure().get())
                    .append('\n')
                    .toString();
        }
        tuning.words().forEach(words -> text.append("# ").append(words).append('\n'));
        text.append("# rule: ").append(tuning.rule().orElse("")).append('\n');
        return text.append("[cabinet.control]\n")
                .append(line("gain_per_kelvin = %.3f", tuning.gainPerKelvin()))
                .append(line("integral_seconds = %.0f", tuning.integralSeconds()))
                .append(line("derivative_seconds = %.0f", tuning.derivativeSeconds()))
                .append(line("window_seconds = %.0f", tuning.windowSeconds()))
                .append(line("minimum_on_seconds = %.0f", tuning.minimumSeconds()))
                .append(line("minimum_off_seconds = %.0f", tuning.minimumSeconds()))
                .append("gain_follows_duty = false\n")
                .toString();
    }

    private static String line(String form, Optional<Double> value) {
        return value.map(number -> String.format(Locale.ROOT, form, number) + "\n").orElse("");
    }
}
