package io.evenwarm.agent.loop;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.guard.Guard;
import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.message.Command;
import io.evenwarm.message.CommandOutcome;
import io.evenwarm.message.Finding;
import io.evenwarm.quantity.Temperature;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Function;

/**
 * Carries out commands for one cabinet, and keeps what they change: the set point, the silence, and
 * with guard the latch. Control thread only.
 *
 * <p><b>What is saved when.</b> A trip counts at once and is saved after. A reset is saved first
 * and counts only then: a latch that a power cut would bring back was not reset. A set point counts
 * at once and is answered when it is saved, or with a warning when it could not be.
 */
final class CommandDesk {

    private static final System.Logger LOG = System.getLogger(CommandDesk.class.getName());

    private final CabinetPlan plan;
    private final Guard guard;
    private final StateNotes notes;
    private Temperature setPoint;
    private boolean isSilenced;
    private Latch knownLatch;
    private boolean isResetUnderWay;
    private final PlannedWork plannedWork = new PlannedWork();
    private CabinetState newestState;
    private long nowNanos;
    private Function<Command.Tune, CommandOutcome> tuner =
            tune -> refused("there is nothing to tune");

    CommandDesk(
            CabinetPlan plan,
            Guard guard,
            StateNotes notes,
            Optional<Temperature> keptSetPoint,
            CabinetState firstState) {
        this.plan = plan;
        this.guard = guard;
        this.notes = notes;
        this.knownLatch = guard.latch();
        this.newestState = firstState;
        this.setPoint = plan.setPoint();
        keptSetPoint.ifPresent(this::takeKept);
    }

    private void takeKept(Temperature kept) {
        Optional<String> refusal = guard.setPointRefusal(kept);
        if (refusal.isPresent()) {
            LOG.log(
                    System.Logger.Level.WARNING,
                    "cabinet {0}: the set point that was commanded earlier no longer fits, so the"
                            + " configured one counts: {1}",
                    plan.name(),
                    refusal.get());
            return;
        }
        setPoint = kept;
        guard.setPointChanged(kept);
    }

    /** Who carries out what is about tuning. */
    void tuneBy(Function<Command.Tune, CommandOutcome> carriesOut) {
        tuner = carriesOut;
    }

    /** The configured or commanded set point; a programme may add to it. */
    Temperature setPoint() {
        return setPoint;
    }

    boolean isSilenced() {
        return isSilenced;
    }

    /** This tick's readings: what is carried out from here on is judged by them. */
    void see(CabinetState state, long nowNanos) {
        newestState = state;
        this.nowNanos = nowNanos;
        plannedWork.see(nowNanos);
    }

    /** When planned work ends by itself; empty when none is under way. */
    Optional<Long> plannedWorkUntilNanos() {
        return plannedWork.untilNanos();
    }

    /** Carries out what waits. */
    void work(CommandQueue commands) {
        for (int i = 0; i < CommandQueue.CAPACITY; i++) {
            CommandQueue.Waiting waiting = commands.next();
            if (waiting == null) {
                return;
            }
            carryOut(waiting.command(), guarded(waiting.answer()));
        }
    }

    private void carryOut(Command command, Consumer<CommandOutcome> answer) {
        Runnable work = command.fold(new WorkFor(answer));
        work.run();
    }

    private void changeSetPoint(Temperature wanted, Consumer<CommandOutcome> answer) {
        Optional<String> refusal = guard.setPointRefusal(wanted);
        if (refusal.isPresent()) {
            answer.accept(refused(refusal.get()));
            return;
        }
        setPoint = wanted;
        guard.setPointChanged(wanted);
        String done =
                String.format(
                        Locale.ROOT,
                        "Cabinet %s: set point is now %.2f °C",
                        plan.name(),
                        wanted.celsius());
        notes.save(
                wanted,
                problem ->
                        answer.accept(
                                new CommandOutcome.Done(
                                        problem.map(
                                                                found ->
                                                                        done
                                                                                + ", but it is not saved and"
                                                                                + " a restart would lose"
                                                                                + " it: "
                                                                                + found)
                                                        .orElse(done)
                                                + ".")));
    }

    /** The reset button: who holds it stands at the cabinet. */
    void resetAtCabinet(Consumer<CommandOutcome> answer) {
        reset(true, guarded(answer));
    }

    private void reset(boolean isAtCabinet, Consumer<CommandOutcome> answer) {
        if (isResetUnderWay) {
            answer.accept(refused("a reset is already being saved"));
            return;
        }
        Optional<String> refusal = guard.resetRefusal(newestState, isAtCabinet);
        if (refusal.isPresent()) {
            answer.accept(refused(refusal.get()));
            return;
        }
        isResetUnderWay = true;
        notes.save(new Latch.Clear(), problem -> finishReset(problem, isAtCabinet, answer));
    }

    private void finishReset(
            Optional<String> problem, boolean isAtCabinet, Consumer<CommandOutcome> answer) {
        isResetUnderWay = false;
        // It may have got hot, or blind, while the disk was busy.
        Optional<String> refusal =
                problem.map(found -> "the reset could not be saved: " + found)
                        .or(() -> guard.resetRefusal(newestState, isAtCabinet));
        if (refusal.isPresent()) {
            // Whatever became of the file, it must say what counts.
            notes.save(guard.latch(), ignored -> {});
            answer.accept(refused(refusal.get()));
            return;
        }
        guard.reset(newestState, isAtCabinet);
        knownLatch = guard.latch();
        answer.accept(
                new CommandOutcome.Done(
                        "Cabinet "
                                + plan.name()
                                + ": the cut-off is reset. Stay until it holds its temperature."));
    }

    void silence(Consumer<CommandOutcome> answer) {
        isSilenced = true;
        answer.accept(
                new CommandOutcome.Done(
                        "Cabinet " + plan.name() + ": silenced until something new is found."));
    }

    private void startWork(int minutes, Consumer<CommandOutcome> answer) {
        Optional<String> refusal = plannedWork.start(minutes, nowNanos);
        answer.accept(
                refusal.isPresent()
                        ? refused(refusal.get())
                        : new CommandOutcome.Done(
                                "Cabinet "
                                        + plan.name()
                                        + ": planned work for "
                                        + minutes
                                        + " min. An open door and cold air are not reported until"
                                        + " then; the cut-off stays."));
    }

    private void endWork(Consumer<CommandOutcome> answer) {
        answer.accept(
                plannedWork.end()
                        ? new CommandOutcome.Done(
                                "Cabinet " + plan.name() + ": planned work has ended.")
                        : refused("no planned work is under way"));
    }

    /** Saves the latch when guard tripped it in this tick. */
    void noteLatch() {
        Latch latch = guard.latch();
        if (latch != knownLatch) {
            knownLatch = latch;
            LOG.log(
                    System.Logger.Level.WARNING,
                    "cabinet {0}: cut-off tripped: {1}",
                    plan.name(),
                    latch.trippedReason().orElse(""));
            notes.save(latch, problem -> {});
        }
    }

    /** A new finding ends the silence; so does the end of all of them. */
    void noteFindings(List<Finding> before, List<Finding> now) {
        if (!isSilenced || before == now) {
            return;
        }
        isSilenced = !now.isEmpty() && now.stream().allMatch(finding -> isOneOf(before, finding));
    }

    private static boolean isOneOf(List<Finding> findings, Finding finding) {
        return findings.stream().anyMatch(finding::isSameTroubleAs);
    }

    private CommandOutcome refused(String why) {
        return new CommandOutcome.Refused("Cabinet " + plan.name() + ": " + why + ".");
    }

    /** An answer's own failure must not undo the tick. */
    private Consumer<CommandOutcome> guarded(Consumer<CommandOutcome> answer) {
        return outcome -> {
            try {
                answer.accept(outcome);
            } catch (RuntimeException e) {
                LOG.log(
                        System.Logger.Level.WARNING,
                        "cabinet " + plan.name() + ": nobody took the answer " + outcome,
                        e);
            }
        };
    }

    /** What has to be done for each kind of command, answered to whoever sent it. */
    private final class WorkFor implements Command.Cases<Runnable> {

        private final Consumer<CommandOutcome> answer;

        WorkFor(Consumer<CommandOutcome> answer) {
            this.answer = answer;
        }

        @Override
        public Runnable setSetPoint(Command.SetSetPoint command) {
            return () -> changeSetPoint(command.setPoint(), answer);
        }

        @Override
        public Runnable resetCutOff(Command.ResetCutOff command) {
            return () -> reset(false, answer);
        }

        @Override
        public Runnable silence(Command.Silence command) {
            return () -> CommandDesk.this.silence(answer);
        }

        @Override
        public Runnable startPlannedWork(Command.StartPlannedWork command) {
            return () -> startWork(command.minutes(), answer);
        }

        @Override
        public Runnable endPlannedWork(Command.EndPlannedWork command) {
            return () -> endWork(answer);
        }

        @Override
        public Runnable tune(Command.Tune command) {
            return () -> answer.accept(tuner.apply(command));
        }
    }
}
