package io.evenwarm.agent.app;

import io.evenwarm.agent.driver.sysfs.MachineBoot;
import io.evenwarm.agent.durable.LifeNote;
import io.evenwarm.clock.TrueTime;
import io.evenwarm.message.Moment;
import java.io.IOException;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Optional;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Supplier;

/**
 * Keeps the note that the agent is alive, once a minute, and asks every second whether the
 * machine's clock has been set; both away from the control thread.
 */
final class LifeKeeper implements AutoCloseable {

    private static final Logger LOG = System.getLogger(LifeKeeper.class.getName());
    private static final long LOOK_NANOS = 1_000_000_000L;
    private static final int LOOKS_A_NOTE = 60;
    private static final long END_MILLIS = 2000;

    private final Optional<String> machineBoot = MachineBoot.id(MachineBoot.FILE);
    private final Optional<LifeNote> note;
    private final Optional<LifeNote.Left> left;
    private final TrueTime time;
    private final Supplier<Moment> now;
    private final Thread thread = new Thread(this::run, "life note");
    private volatile boolean isOver;

    /**
     * @param time the real wall clock
     * @param now the cabinets' time
     */
    LifeKeeper(Path stateFolder, TrueTime time, Supplier<Moment> now) {
        this.note = machineBoot.map(boot -> new LifeNote(stateFolder, boot));
        this.left = note.flatMap(LifeNote::left);
        this.time = time;
        this.now = now;
        thread.setDaemon(true);
    }

    /** What the kernel calls the boot that the machine is in. */
    Optional<String> machineBoot() {
        return machineBoot;
    }

    /** What the last run left. */
    Optional<LifeNote.Left> left() {
        return left;
    }

    /** When the machine went off under the last run: when that last knew the time. */
    Optional<LifeNote.PowerCut> powerCut() {
        return left.flatMap(before -> machineBoot.flatMap(before::powerCut));
    }

    void start() {
        thread.start();
    }

    private void run() {
        for (long look = 0; !isOver; look++) {
            boolean wasTrusted = time.isTrusted();
            time.look();
            if (look % LOOKS_A_NOTE == 0 || time.isTrusted() != wasTrusted) {
                running();
            }
            LockSupport.parkNanos(LOOK_NANOS);
        }
        Moment end = now.get();
        write(there -> there.ended(end));
    }

    private void running() {
        Moment moment = now.get();
        Optional<Instant> trusted = time.isTrusted() ? Optional.of(time.now()) : Optional.empty();
        write(there -> there.running(moment, trusted));
    }

    private interface Writing {
        void on(LifeNote note) throws IOException;
    }

    private void write(Writing writing) {
        if (note.isEmpty()) {
            return;
        }
        try {
            writing.on(note.get());
        } catch (IOException | RuntimeException e) {
            LOG.log(Level.WARNING, "the note that the agent lives can't be written: {0}", e);
        }
    }

    /** Notes a wanted end; gives up after {@value #END_MILLIS} ms on a disk that hangs. */
    @Override
    public void close() {
        isOver = true;
        LockSupport.unpark(thread);
        try {
            thread.join(END_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
