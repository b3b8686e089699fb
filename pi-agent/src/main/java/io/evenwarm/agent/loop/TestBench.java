package io.evenwarm.agent.loop;

import io.evenwarm.agent.control.HeaterControl;
import io.evenwarm.agent.control.RelayTest;
import io.evenwarm.agent.control.StepTest;
import io.evenwarm.agent.control.Tuning;
import io.evenwarm.agent.control.TuningTest;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.ControlReport;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import io.evenwarm.message.GuardState;
import io.evenwarm.message.Limits;
import io.evenwarm.quantity.Temperature;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/**
 * Begins and ends tuning tests on one cabinet, and keeps what the last one led to. Control thread
 * only.
 */
final class TestBench {

    private static final System.Logger LOG = System.getLogger(TestBench.class.getName());

    /** These say nothing of the cabinet, and a test goes on beside them. */
    private static final Set<FindingCode> HARMLESS =
            Set.of(
                    FindingCode.JOURNAL_FAILING,
                    FindingCode.CLOCK_UNTRUSTED,
                    FindingCode.STATE_NOT_SAVED);

    /** A test ends before a probe comes nearer to the cut-off, K. */
    private static final double CUT_OFF_DISTANCE_KELVIN = 0.8;

    private final CabinetPlan plan;
    private final HeaterControl control;
    private String method = "";
    private boolean isSettled = true;
    private boolean isNews;
    private Optional<Tuning.Proposal> proposal = Optional.empty();
    private Optional<ControlReport.Tuning> report = Optional.empty();
    private List<Finding> findings = List.of();

    TestBench(CabinetPlan plan, HeaterControl control) {
        this.plan = plan;
        this.control = control;
    }

    /** Carries out a command; what it says is for the person who asked. */
    CommandOutcome carryOut(
            Command.Tune command, Temperature setPoint, GuardState guard, Limits limits) {
        return switch (command.action()) {
            case STEP, RELAY -> begin(command, setPoint, guard, limits);
            case STOP -> stop();
            case APPLY -> apply();
            case REVERT -> revert();
        };
    }

    private CommandOutcome begin(
            Command.Tune command, Temperature setPoint, GuardState guard, Limits limits) {
        if (plan.keeping().holdsEggs() && !command.withEggs()) {
            return refused(
                    "the configuration says that eggs may be in it (holds_eggs), and a test moves the"
                            + " temperature by up to 1 K. Say --with-eggs to test all the same");
        }
        if (!isSettled) {
            return refused("a test is already under way");
        }
        if (guard != GuardState.ALLOWING) {
            return refused("the guard does not allow heat now");
        }
        Optional<FindingCode> trouble = trouble();
        if (trouble.isPresent()) {
            return refused("first see to what was found: " + trouble.get().value());
        }
        double warmest =
                Math.min(
                        limits.tooWarm().celsius(),
                        limits.cutOff().celsius() - CUT_OFF_DISTANCE_KELVIN);
        boolean isStep = command.action() == Command.Tune.Action.STEP;
        method = isStep ? "step" : "relay";
        control.begin(
                isStep
                        ? new StepTest(setPoint.celsius(), warmest)
                        : new RelayTest(setPoint.celsius(), warmest));
        isSettled = false;
        isNews = true;
        return done(
                "a "
                        + method
                        + " test begins: 20 min of watching, then the heater is changed. Keep the door"
                        + " shut. It ends by itself, and with any finding");
    }

    private CommandOutcome stop() {
        if (isSettled) {
            return refused("no test is under way");
        }
        end("a person stopped it");
        settle();
        return done("the test is stopped; control goes on as before");
    }

    private CommandOutcome apply() {
        if (proposal.isEmpty()) {
            return refused("no test has led to constants yet");
        }
        control.use(proposal.get().plan());
        return done(
                "the constants of the last test count now, until the agent is started again. Write"
                        + " them into the configuration to keep them");
    }

    private CommandOutcome revert() {
        control.use(plan.control());
        return done("the configuration's constants count again");
    }

    private CommandOutcome done(String words) {
        return new CommandOutcome.Done("Cabinet " + plan.name() + ": " + words + ".");
    }

    private CommandOutcome refused(String words) {
        return new CommandOutcome.Refused("Cabinet " + plan.name() + ": " + words + ".");
    }

    /** This tick's findings: any that is about the cabinet ends a test. */
    void see(List<Finding> now) {
        if (now == findings) {
            return;
        }
        findings = now;
        if (!isSettled) {
            trouble().ifPresent(code -> end("this was found meanwhile: " + code.value()));
        }
    }

    private Optional<FindingCode> trouble() {
        return findings.stream()
                .map(Finding::code)
                .filter(code -> !HARMLESS.contains(code))
                .findFirst();
    }

    /** Ends a test that runs. */
    void end(String why) {
        control.test().ifPresent(test -> test.fail(why));
    }

    /** Takes up the end of a test. */
    void settle() {
        if (isSettled || control.test().isEmpty() || !control.test().get().isOver()) {
            return;
        }
        TuningTest test = control.test().get();
        isSettled = true;
        isNews = true;
        if (test.finding().isEmpty()) {
            report =
                    Optional.of(
                            new ControlReport.Tuning(
                                    method,
                                    Optional.of(test.failure().orElse("it found nothing")),
                                    Optional.empty(),
                                    Optional.empty(),
                                    Optional.empty(),
                                    Optional.empty(),
                                    Optional.empty(),
                                    Optional.empty(),
                                    List.of()));
        } else {
            Tuning.Proposal made = Tuning.propose(test.finding().get(), plan.control());
            proposal = Optional.of(made);
            report =
                    Optional.of(
                            new ControlReport.Tuning(
                                    method,
                                    Optional.empty(),
                                    Optional.of(made.rule().words()),
                                    Optional.of(made.plan().gainPerKelvin()),
                                    Optional.of(made.plan().integralSeconds()),
                                    Optional.of(made.plan().derivativeSeconds()),
                                    Optional.of(made.plan().windowSeconds()),
                                    Optional.of(made.plan().minimumOnSeconds()),
                                    made.words()));
        }
        LOG.log(
                System.Logger.Level.INFO,
                "cabinet {0}: {1} test ended: {2}",
                plan.name(),
                method,
                test.failure().orElse(String.valueOf(report.get().words())));
    }

    /** Whether there is something that the last report did not say. */
    boolean isNews() {
        return isNews;
    }

    Optional<ControlReport.Tuning> report() {
        isNews = false;
        return report;
    }

    /** Whether a test, and not control, says how much heat there shall be. */
    boolean isDriving() {
        return !isSettled && control.test().map(TuningTest::isDriving).orElse(false);
    }

    /** What is under way, for a person. */
    Optional<String> activity() {
        return isSettled
                ? Optional.empty()
                : control.test()
                        .map(TuningTest::words)
                        .map(words -> words.toLowerCase(Locale.ROOT));
    }
}
