package io.evenwarm.agent.loop;

import io.evenwarm.agent.port.HeldDuty;
import io.evenwarm.agent.port.HeldDutyStore;
import io.evenwarm.agent.port.Latch;
import io.evenwarm.agent.port.LatchStore;
import io.evenwarm.agent.port.Learned;
import io.evenwarm.agent.port.LearnedStore;
import io.evenwarm.agent.port.RelayCountStore;
import io.evenwarm.agent.port.SetPointStore;
import io.evenwarm.message.CabinetName;
import io.evenwarm.quantity.Temperature;
import java.io.IOException;
import java.util.Optional;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.Executor;
import java.util.concurrent.RejectedExecutionException;
import java.util.function.Consumer;

/**
 * Saves one cabinet's latch and set point without the tick waiting for the disk: an executor does
 * the saving, its results come back with {@link #settle} in the control thread. With a direct
 * executor all happens inline.
 *
 * <p>Called by the control thread only. What could not be saved is tried again every 30 s.
 */
final class StateNotes {

    private static final long RETRY_NANOS = 30_000_000_000L;

    private final CabinetName cabinet;
    private final LatchStore latches;
    private final SetPointStore setPoints;
    private final Executor saves;
    // Bounded by the saves under way: one a command drained, one a trip, one a count, one of what
    // is learned, one of the duty that holds, a retry each.
    private final ConcurrentLinkedQueue<Runnable> results = new ConcurrentLinkedQueue<>();

    private final Note latchNote = new Note("the cut-off's latch");
    private final Note setPointNote = new Note("the set point");
    private final Note learnedNote = new Note("what guard has learned");
    private final Note dutyNote = new Note("the duty that holds it");
    private final Note relayNote = new Note("the count of relay operations");

    StateNotes(CabinetName cabinet, LatchStore latches, SetPointStore setPoints, Executor saves) {
        this.cabinet = cabinet;
        this.latches = latches;
        this.setPoints = setPoints;
        this.saves = saves;
    }

    /**
     * Saves the latch.
     *
     * @param answer gets, in the control thread, what went wrong; empty when it is saved
     */
    void save(Latch latch, Consumer<Optional<String>> answer) {
        latchNote.save(() -> latches.save(cabinet, latch), answer);
    }

    /** Saves the set point; {@code answer} as with the latch. */
    void save(Temperature setPoint, Consumer<Optional<String>> answer) {
        setPointNote.save(() -> setPoints.save(cabinet, setPoint), answer);
    }

    /** Saves how often the heater's relay has switched, with a store of its own. */
    void save(RelayCountStore counts, long operations) {
        relayNote.save(() -> counts.save(cabinet, operations), problem -> {});
    }

    /** Saves what guard has learned, with a store of its own. */
    void save(LearnedStore store, Learned learned) {
        learnedNote.save(() -> store.save(cabinet, learned), problem -> {});
    }

    /** Saves which duty holds the cabinet, with a store of its own. */
    void save(HeldDutyStore store, HeldDuty held) {
        dutyNote.save(() -> store.save(cabinet, held), problem -> {});
    }

    /** Takes in what came back from the disk since the last call, and tries failed saves again. */
    void settle(long nowNanos) {
        for (Runnable next = results.poll(); next != null; next = results.poll()) {
            next.run();
        }
        latchNote.retryIfDue(nowNanos);
        setPointNote.retryIfDue(nowNanos);
        relayNote.retryIfDue(nowNanos);
        learnedNote.retryIfDue(nowNanos);
        dutyNote.retryIfDue(nowNanos);
    }

    /** What is not saved, in plain words; empty when all is. */
    String unsaved() {
        return latchNote.failure.isEmpty() ? setPointNote.failure : latchNote.failure;
    }

    /** Something that writes to the disk. */
    @FunctionalInterface
    private interface Save {
        void run() throws IOException;
    }

    /** One kept value. Only the newest save of it counts. */
    private final class Note {

        private final String what;
        private long newest;
        private Save newestSave = () -> {};
        private String failure = "";
        private boolean isRetryPlanned;
        private boolean isUnderWay;
        private long retryAtNanos;

        Note(String what) {
            this.what = what;
        }

        void save(Save save, Consumer<Optional<String>> answer) {
            newest++;
            newestSave = save;
            submit(newest, save, answer);
        }

        private void submit(long number, Save save, Consumer<Optional<String>> answer) {
            isUnderWay = true;
            try {
                saves.execute(
                        () -> {
                            Optional<String> problem = tried(save);
                            results.add(() -> done(number, problem, answer));
                        });
            } catch (RejectedExecutionException e) {
                results.add(
                        () -> done(number, Optional.of("the disk is too slow to keep up"), answer));
            }
        }

        private Optional<String> tried(Save save) {
            try {
                save.run();
                return Optional.empty();
            } catch (IOException | RuntimeException e) {
                return Optional.of(String.valueOf(e.getMessage()));
            }
        }

        private void done(
                long number, Optional<String> problem, Consumer<Optional<String>> answer) {
            if (number == newest) {
                isUnderWay = false;
                failure = problem.map(p -> what + " could not be saved: " + p).orElse("");
                isRetryPlanned = false;
            }
            answer.accept(problem);
        }

        void retryIfDue(long nowNanos) {
            if (failure.isEmpty() || isUnderWay) {
                return;
            }
            if (!isRetryPlanned) {
                isRetryPlanned = true;
                retryAtNanos = nowNanos + RETRY_NANOS;
            } else if (nowNanos - retryAtNanos >= 0) {
                submit(newest, newestSave, problem -> {});
            }
        }
    }
}
