package io.evenwarm.agent.app;

import io.evenwarm.agent.driver.sysfs.MachineBoot;
import io.evenwarm.agent.durable.LifeNote;
import io.evenwarm.clock.WallClock;
import java.io.IOException;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Optional;
import java.util.concurrent.locks.LockSupport;

/** Keeps the note that the agent is alive, once a minute and away from the control thread. */
final class LifeKeeper implements AutoCloseable {

    private static final Logger LOG = System.getLogger(LifeKeeper.class.getName());
    private static final long PERIOD_NANOS = 60_000_000_000L;
    private static final long END_MILLIS = 2000;

    private final Optional<LifeNote> note;
    private final WallClock wall;
    private final Thread thread = new Thread(this::run, "life note");
    private volatile boolean isOver;

    LifeKeeper(Path stateFolder, WallClock wall) {
        this.note = MachineBoot.id(MachineBoot.FILE).map(boot -> new LifeNote(stateFolder, boot));
        this.wall = wall;
        thread.setDaemon(true);
    }

    /** Whether the machine went off under the last run. Before {@link #start}. */
    Optional<LifeNote.PowerCut> powerCut() {
        return note.flatMap(LifeNote::powerCut);
    }

    void start() {
        thread.start();
    }

    private void run() {
        while (!isOver) {
            running();
            LockSupport.parkNanos(PERIOD_NANOS);
        }
        write(LifeNote::ended);
    }

    private void running() {
        Optional<Instant> now = wall.isTrusted() ? Optional.of(wall.now()) : Optional.empty();
        write(there -> there.running(now));
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
